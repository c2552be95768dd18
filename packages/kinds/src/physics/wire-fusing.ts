import { convert } from '@halfsplit/core'
import { positive } from './require.js'

const ZERO_CELSIUS = 273.15
/**
 * Melting point of copper [degC], and minus the temperature where its resistance would be zero [K].
 * Source: Onderdonk; general text.
 */
const MELTS_AT = 1083
const INFERRED_ZERO = 234

const circularMils = (area: number) => convert(positive(area, 'the area of the wire'), 'm2', '[cml_i]')

/**
 * Current that melts a copper wire in a short time [A]:  A √(log10(1 + (Tm − Ta)/(234 + Ta))/(33 t)), A in circular mil, degC.
 * @param area [m²]   @param time [s], up to about 10   @param start temperature of the wire [K], 25 degC unless given
 * No heat is lost.   Source: Onderdonk (general text; 234 + Ta, which one page prints as 234 − Ta).
 * @throws HalfsplitError VALUE_IMPOSSIBLE
 */
export function meltingCurrent(area: number, time: number, start = 298.15): number {
  const ta = positive(start, 'the temperature of the wire') - ZERO_CELSIUS
  const share = 1 + positive(MELTS_AT - ta, 'the rise to melting') / (INFERRED_ZERO + ta)
  return circularMils(area) * Math.sqrt(Math.log10(share) / (33 * positive(time, 'the time')))
}

/**
 * Integral of current squared that heats a copper wire from one temperature to another with no loss [A² s]:
 *     A² 0.0297 log10((T2 + 234)/(T1 + 234)), A in circular mil, degC.
 * @param area [m²]   @param from @param to [K], to > from   Source: ICEA cable short-circuit formula.
 * @throws HalfsplitError VALUE_IMPOSSIBLE
 */
export function heatingIntegral(area: number, from: number, to: number): number {
  const ratio = (to - ZERO_CELSIUS + INFERRED_ZERO) / (from - ZERO_CELSIUS + INFERRED_ZERO)
  return (
    circularMils(area) ** 2 *
    0.0297 *
    positive(Math.log10(positive(ratio, 'the ratio of temperatures')), 'the rise of temperature')
  )
}

/**
 * Current that melts a copper wire in free air in the end [A]:  10244 d^1.5, d in inch.
 * @param diameter [m], > 0   Source: Preece.   @throws HalfsplitError VALUE_IMPOSSIBLE
 */
export function freeAirFusingCurrent(diameter: number): number {
  return 10244 * convert(positive(diameter, 'the diameter of the wire'), 'm', '[in_i]') ** 1.5
}
