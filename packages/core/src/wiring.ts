import { ALPHA_COPPER_20, awgArea, copperRatio, wireResistance } from './copper.js'
import { convert } from './units.js'

const AT_20 = 293.15

// IEC 60228, classes 5 and 6 (flexible), maximum resistance of a new conductor at 20 degC [mOhm/m]: area [mm²], plain, tinned strands.
// From memory; about half of the values are held against published rows by the handbook.
const FLEXIBLE: readonly (readonly [number, number, number])[] = [
  [0.5, 39, 40.1],
  [0.75, 26, 26.7],
  [1, 19.5, 20],
  [1.5, 13.3, 13.7],
  [2.5, 7.98, 8.21],
  [4, 4.95, 5.09],
  [6, 3.3, 3.39],
  [10, 1.91, 1.95],
  [16, 1.21, 1.24],
  [25, 0.78, 0.795],
  [35, 0.554, 0.565],
  [50, 0.386, 0.393],
  [70, 0.272, 0.277],
  [95, 0.206, 0.21],
  [120, 0.161, 0.164],
  [150, 0.129, 0.132],
  [185, 0.106, 0.108],
  [240, 0.0801, 0.0817],
  [300, 0.0641, 0.0654],
]

/**
 * Greatest resistance [ohm] of a new flexible (stranded) copper conductor at a temperature.
 * @param area nominal [m²]; between the sizes of the table the surplus over ideal copper is interpolated, outside it that of the nearest size
 * @param length there and back counted both [m]   @param temperature of the copper [K]   @param strands plain unless 'tinned'
 * Source: IEC 60228, table of classes 5 and 6.  Checked by the wire rows of the handbook.
 */
export function flexibleResistance(
  area: number,
  length: number,
  temperature = AT_20,
  strands: 'plain' | 'tinned' = 'plain',
): number {
  return wireResistance(area, length, temperature) * strandSurplus(area * 1e6, strands)
}

/** Resistance of the table over that of ideal copper of the nominal area. */
function strandSurplus(mm2: number, strands: 'plain' | 'tinned'): number {
  const surplus = (row: readonly [number, number, number]) =>
    (row[strands === 'plain' ? 1 : 2] * 1e-3) / wireResistance(row[0] * 1e-6, 1)
  const upper = FLEXIBLE.findIndex((row) => row[0] >= mm2 * (1 - 1e-9))
  if (upper <= 0) return surplus(FLEXIBLE[upper === 0 ? 0 : FLEXIBLE.length - 1])
  const [below, above] = [FLEXIBLE[upper - 1], FLEXIBLE[upper]]
  const share = Math.log(mm2 / below[0]) / Math.log(above[0] / below[0])
  return surplus(below) + share * (surplus(above) - surplus(below))
}

/**
 * How far the published maximum of a new finished wire lies above ideal copper of its area, as a ratio: strand lay, tin, drawing tolerance.
 * Sources: FAA AC 43.13-1B table 11-9 (1.12 to 1.18, AWG 24 1.30, to two decimals), IEC 60228 class 5 (1.10 to 1.16), ISO 6722-1 (1.07).
 */
export const FINISHED_WIRE_SURPLUS = { least: 1, most: 1.305 } as const

/** Voltage drop [V] along a conductor:  (ohm per metre)·length·current. */
export function voltageDrop(resistancePerLength: number, length: number, current: number): number {
  return resistancePerLength * length * current
}

/** Factor [1] by which a run may be longer at 293.15 K than at temperature T [K] for one and the same drop. Source: AC 43.13-1B, 11-66. */
export function runLengthFactor(temperature: number): number {
  return copperRatio(temperature, AT_20)
}

/**
 * Voltage drop [V] that wiring may have, from bus to load and back to ground.
 * @param nominal one of 14, 28, 115, 200 [V]; undefined for others   @param duty of the load
 * Source: FAA AC 43.13-1B, table 11-6.
 */
export function allowedDrop(nominal: number, duty: 'continuous' | 'intermittent'): number | undefined {
  const row = { 14: [0.5, 1], 28: [1, 2], 115: [4, 8], 200: [7, 14] }[nominal]
  return row?.[duty === 'continuous' ? 0 : 1]
}

/** Share of the supply that marine wiring may lose. Source: ABYC E-11; ISO 10133 has the 10 % too. */
export const MARINE_DROP = { critical: 0.03, nonCritical: 0.1 } as const

/** Drop over a ground or a connection under load that asks for attention [V]: common practice, no source. */
export const CONNECTION_DROP_LIMIT = 0.1

/** Resistivity used in marine wire sizing, 10.75 ohm·circular mil/ft [ohm m]: copper with strand lay and some warmth. Source: ABYC E-11. */
const MARINE_RESISTIVITY = (10.75 * convert(1, '[cml_i]', 'm2')) / convert(1, '[ft_i]', 'm')

/**
 * Area of copper [m²] that keeps the drop of a marine circuit at a share of its supply:  K·current·length/(share·supply).
 * @param current [A]   @param length there and back [m]   @param supply [V]   @param share that may be lost [1], > 0   Source: ABYC E-11.
 */
export function marineArea(current: number, length: number, supply: number, share: number): number {
  return (MARINE_RESISTIVITY * current * length) / (share * supply)
}

/** Sizes one can buy: even gauges from 24 to 2, then 1, 0 ... 4/0 (as 0, -1, -2, -3). */
const TRADE_GAUGES = [24, 22, 20, 18, 16, 14, 12, 10, 8, 6, 4, 2, 1, 0, -1, -2, -3]

/** Thinnest trade size whose area is at least `area` [m²]; undefined above 4/0. Numbers as in `awgDiameter`. */
export function smallestGauge(area: number): number | undefined {
  return TRADE_GAUGES.find((gauge) => awgArea(gauge) >= area)
}

/** Temperature coefficient of copper referred to another temperature [1/K]:  alpha20/(1 + alpha20·(T − 293.15)). @param reference [K] */
export function copperAlphaAt(reference: number): number {
  return ALPHA_COPPER_20 / (1 + ALPHA_COPPER_20 * (reference - AT_20))
}
