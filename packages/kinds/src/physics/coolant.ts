import { STANDARD_ATMOSPHERE } from '@halfsplit/core'
import { whereReaches } from './interpolate.js'
import { within } from './require.js'
import { saturationTemperature } from './steam.js'

const ZERO_CELSIUS = 273.15

/** Molar masses of water and ethylene glycol [g/mol]; densities at 20 degC [kg/m³]. General text. */
const WATER = { molar: 18.015, density: 998.2 } as const
const GLYCOL = { molar: 62.068, density: 1113.2 } as const

/** Ethylene glycol and water, up to 60 % by mass and 100 degC: where the polynomials are centred. */
const MOST_GLYCOL = 0.6
const CENTRE = { percent: 30.8462, celsius: 31.728 } as const

/** Powers of (percent − centre, celsius − centre) that the rows below belong to. */
const POWERS = [4, 4, 4, 3, 2, 1].flatMap((count, i) => Array.from({ length: count }, (_, j) => [i, j] as const))

// Coefficients for aqueous ethylene glycol, in the order of POWERS. Source: Melinder 2010, Properties of Secondary Working
// Fluids.
const DENSITY = [
  1034, -0.4781, -0.002692, 4.725e-6, 1.311, -0.006876, 4.805e-5, 1.69e-8, 7.49e-5, 7.855e-5, -3.995e-7, 4.982e-9, -1.062e-4,
  1.229e-6, -1.153e-8, -9.623e-7, -7.211e-8, 4.891e-8,
]
const HEAT = [
  3737, 2.93, -0.004675, -1.389e-5, -17.99, 0.1046, -4.147e-4, 1.847e-7, -0.09933, 3.516e-4, 5.109e-6, -7.138e-8, 0.00261,
  -1.189e-6, -1.643e-7, 1.537e-5, -4.272e-7, -1.618e-6,
]
/** Freezing point over (percent − centre) alone, lowest power first [degC]. */
const FREEZING = [-15.25, -0.808, -0.01334, -7.293e-5, 1.006e-6, 1.14e-9]

function property(coefficients: readonly number[], glycol: number, temperature: number): number {
  within(glycol, 0, MOST_GLYCOL, 'the mass share of glycol')
  within(temperature, ZERO_CELSIUS - 50, ZERO_CELSIUS + 100, 'the temperature of the coolant')
  const x = 100 * glycol - CENTRE.percent
  const y = temperature - ZERO_CELSIUS - CENTRE.celsius
  return POWERS.reduce((sum, [i, j], n) => sum + coefficients[n] * x ** i * y ** j, 0)
}

/**
 * Density of coolant [kg/m³].
 * @param glycol mass share of ethylene glycol, 0 to 0.6   @param temperature 223 to 373 [K], above its freezing point
 * Source: Melinder 2010.  Checked by the coolant rows of the handbook.   @throws HalfsplitError VALUE_IMPOSSIBLE
 */
export const coolantDensity = (glycol: number, temperature: number): number => property(DENSITY, glycol, temperature)

/** Specific heat of coolant [J/(kg K)]. Arguments, range and source as `coolantDensity`. */
export const coolantHeat = (glycol: number, temperature: number): number => property(HEAT, glycol, temperature)

/**
 * Temperature at which coolant begins to freeze [K].
 * @param glycol mass share of ethylene glycol, 0 to 0.6   Source: Melinder 2010; service tables differ by 3 K.
 * @throws HalfsplitError VALUE_IMPOSSIBLE
 */
export function freezingPoint(glycol: number): number {
  const x = 100 * within(glycol, 0, MOST_GLYCOL, 'the mass share of glycol') - CENTRE.percent
  return ZERO_CELSIUS + FREEZING.reduceRight((sum, c) => sum * x + c, 0)
}

/**
 * Mass share of glycol in a mix of which it is the share `volume` (0 to 1) by volume at 20 degC.
 * @throws HalfsplitError VALUE_IMPOSSIBLE
 */
export function massShare(volume: number): number {
  const glycol = within(volume, 0, 1, 'the volume share of glycol') * GLYCOL.density
  return glycol / (glycol + (1 - volume) * WATER.density)
}

/**
 * Share of glycol by volume at 20 degC in a mix of which it is the share `mass` (0 to 1): `massShare` turned round.
 * @throws HalfsplitError VALUE_IMPOSSIBLE
 */
export function volumeShare(mass: number): number {
  const glycol = within(mass, 0, 1, 'the mass share of glycol') / GLYCOL.density
  return glycol / (glycol + (1 - mass) / WATER.density)
}

/**
 * Temperature at which coolant boils [K]: that of water at the pressure over the molar share of water (Raoult).
 * @param glycol mass share of ethylene glycol, 0 to 0.9; 0 is plain water   @param pressure absolute [Pa], one atmosphere
 * unless given
 * The vapour of the glycol is neglected: some tenths of a kelvin too high at 50 %.  Source: Raoult's law; IAPWS-IF97 for water.
 * @throws HalfsplitError VALUE_IMPOSSIBLE
 */
export function boilingPoint(glycol: number, pressure = STANDARD_ATMOSPHERE): number {
  const water = (1 - within(glycol, 0, 0.9, 'the mass share of glycol')) / WATER.molar
  return saturationTemperature((pressure * (water + glycol / GLYCOL.molar)) / water)
}

/**
 * Mass share of glycol whose freezing point is `temperature` [K]: what a tester for antifreeze shows. Range as `freezingPoint`.
 * @throws HalfsplitError VALUE_IMPOSSIBLE
 */
export function glycolFromFreezing(temperature: number): number {
  within(temperature, freezingPoint(MOST_GLYCOL), freezingPoint(0), 'the freezing point')
  return whereReaches((glycol) => -freezingPoint(glycol), -temperature, 0, MOST_GLYCOL)
}
