import { convert } from '@halfsplit/core'
import { interpolate, whereReaches } from './interpolate.js'
import { notNegative, positive, within } from './require.js'

/** A starting battery of 12 V has six cells; two in series have twelve. */
const CELLS = 6

/** Temperature at which charge is told from gravity and rest voltage [K]: 80 degF. */
const AT_80F = convert(80, '[degF]', 'K')

/**
 * Rest voltage of six cells [V] and specific gravity [1] by charge.
 * Source: state-of-charge table of the battery trade council, as reprinted.
 */
const VOLTAGE = [
  [0, 11.89],
  [0.25, 12.06],
  [0.5, 12.24],
  [0.75, 12.45],
  [1, 12.65],
] as const
const GRAVITY = [
  [0, 1.12],
  [0.25, 1.155],
  [0.5, 1.19],
  [0.75, 1.225],
  [1, 1.265],
] as const

/** Change of gravity with temperature [1/K]: 0.004 in 10 degF. Source: as the table above. */
const GRAVITY_PER_KELVIN = 0.004 / (10 / 1.8)

/**
 * What must be added to a hydrometer reading at a temperature [K] to have the gravity at 80 degF [1].
 * Source: as the table above.
 */
export const gravityCorrection = (temperature: number): number =>
  GRAVITY_PER_KELVIN * (positive(temperature, 'the temperature of the battery') - AT_80F)

/** The same for a rest voltage [V]: a volt a cell for a unit of gravity. */
export const voltageCorrection = (temperature: number, cells = CELLS): number => cells * gravityCorrection(temperature)

/**
 * Voltage at rest [V] of a lead battery.
 * @param charge 0 to 1 [1]   @param temperature of the electrolyte [K], 80 degF unless given   @param cells 6 for 12 V
 * Rested for `RESTED_AFTER`.   Source: table of the battery trade council, straight lines between.
 * @throws HalfsplitError VALUE_IMPOSSIBLE
 */
export function restVoltage(charge: number, temperature = AT_80F, cells = CELLS): number {
  return (cells / CELLS) * interpolate(VOLTAGE, charge, 'the charge') - voltageCorrection(temperature, cells)
}

/**
 * Charge [1] from the voltage at rest [V]: `restVoltage` turned round; below 0 or above 1 it is 0 or 1.
 * @throws HalfsplitError VALUE_IMPOSSIBLE
 */
export function chargeAtRest(voltage: number, temperature = AT_80F, cells = CELLS): number {
  positive(voltage, 'the voltage at rest')
  return whereReaches((charge) => restVoltage(charge, temperature, cells), voltage, 0, 1)
}

/**
 * Specific gravity of the electrolyte at 80 degF [1] by charge 0 to 1. Source as `restVoltage`.
 * @throws HalfsplitError VALUE_IMPOSSIBLE
 */
export const specificGravity = (charge: number): number => interpolate(GRAVITY, charge, 'the charge')

/** Freezing point of the electrolyte [degF] by specific gravity. Source: US Army TM 5-1185, table III; water at 1. */
const FREEZING = [
  [1, 32],
  [1.1, 19],
  [1.15, 5],
  [1.2, -16],
  [1.25, -62],
  [1.28, -90],
] as const

/**
 * Temperature at which the electrolyte begins to freeze [K].
 * @param gravity 1 to 1.28 [1]   A reprinted table of the trade puts part-charged batteries about 10 K lower: it is not followed.
 * Source: US Army TM 5-1185, table III, straight lines between.   @throws HalfsplitError VALUE_IMPOSSIBLE
 */
export function electrolyteFreezing(gravity: number): number {
  return convert(interpolate(FREEZING, gravity, 'the specific gravity'), '[degF]', 'K')
}

/**
 * Rest voltage of a cell [V] from its specific gravity:  gravity + 0.845.
 * Source: DOE-HDBK-1084-95.   @throws HalfsplitError VALUE_IMPOSSIBLE
 */
export const cellVoltage = (gravity: number): number => within(gravity, 1, 1.4, 'the specific gravity') + 0.845

/** Time after charging or load until a rest voltage counts [s]. Common practice, no source. */
export const RESTED_AFTER = 8 * 3600

/**
 * Specific gravity at 80 degF [1] at which a share of the cranking power is there:  1.280 − 0.12 (1 − power).
 * @param power available over full, 0 to 1   Source: US Army TM 5-1185, table IV (battery full at 1.280).
 * @throws HalfsplitError VALUE_IMPOSSIBLE
 */
export const gravityForPower = (power: number): number => 1.28 - 0.12 * (1 - within(power, 0, 1, 'the share of cranking power'))

/**
 * Internal resistance [ohm] from two readings:  (U0 − U1)/I.
 * @param rest @param loaded [V]   @param current [A], > 0   @throws HalfsplitError VALUE_IMPOSSIBLE
 */
export function internalResistance(rest: number, loaded: number, current: number): number {
  return notNegative(rest - loaded, 'the drop under load') / positive(current, 'the current')
}

/** Current into a dead short [A]:  U0/Ri.   @throws HalfsplitError VALUE_IMPOSSIBLE */
export const shortCircuitCurrent = (rest: number, resistance: number): number =>
  rest / positive(resistance, 'the internal resistance')

/** Voltage under a load [V]:  U0 − Ri I. @param resistance internal [ohm] @param current [A] */
export const loadedVoltage = (rest: number, resistance: number, current: number): number => rest - resistance * current

/**
 * What the ratings of a starting battery mean: temperature [K], time [s], current [A], least voltage of a cell [V].
 * Source: ABYC E-9 (1990), in 46 CFR 183.340.
 */
export const BATTERY_RATINGS = {
  coldCranking: { temperature: convert(0, '[degF]', 'K'), time: 30, cell: 1.2 },
  reserveCapacity: { temperature: AT_80F, current: 25, cell: 1.75 },
} as const

/**
 * Least voltage of a good 12 V battery while cranking or under a 15 s load [V]: 9.3 at 40 degF, 0.1 more or 0.2 less every 10
 * degF.
 * @param temperature of the battery, 0 to 100 degF [K]   Source: table of minimum load voltages in service literature.
 * @throws HalfsplitError VALUE_IMPOSSIBLE
 */
export function leastCrankingVoltage(temperature: number): number {
  within(temperature, convert(0, '[degF]', 'K'), convert(100, '[degF]', 'K'), 'the temperature of the battery')
  const degrees = convert(temperature, 'K', '[degF]') - 40
  return 9.3 + degrees * (degrees > 0 ? 0.01 : 0.02)
}

/** Charging voltage of a cell at 20 degC [V]: below, it never fills; above, it gasses. Common practice, no source. */
export const CHARGING_CELL = { least: 2.3, most: 2.43 } as const
