import { whereReaches } from './interpolate.js'
import { positive, within } from './require.js'

const ZERO_CELSIUS = 273.15

/** Callendar-Van Dusen coefficients of industrial platinum [1/K, 1/K², 1/K⁴]. Source: IEC 60751. */
export const PLATINUM = { a: 3.9083e-3, b: -5.775e-7, c: -4.183e-12 } as const

/** Range of IEC 60751 [K]: -200 to 850 degC. */
const COLDEST = 73.15
const HOTTEST = 1123.15

/** R/R0 at t [degC]:  1 + A t + B t² + C (t − 100) t³, the last only below 0. */
function ratio(t: number): number {
  const cubic = t < 0 ? PLATINUM.c * (t - 100) * t ** 3 : 0
  return 1 + PLATINUM.a * t + PLATINUM.b * t * t + cubic
}

/**
 * Resistance of a platinum thermometer [ohm].
 * @param temperature 73.15 to 1123.15 [K]   @param r0 at 273.15 K [ohm], 100 unless given
 * Source: IEC 60751.  Checked by the sensor rows of the handbook.   @throws HalfsplitError VALUE_IMPOSSIBLE
 */
export function platinumResistance(temperature: number, r0 = 100): number {
  within(temperature, COLDEST, HOTTEST, 'the temperature of the thermometer')
  return positive(r0, 'the resistance at 0 degC') * ratio(temperature - ZERO_CELSIUS)
}

/**
 * Temperature of a platinum thermometer [K] that reads `resistance` [ohm]: `platinumResistance` turned round.
 * @throws HalfsplitError VALUE_IMPOSSIBLE
 */
export function platinumTemperature(resistance: number, r0 = 100): number {
  within(resistance, platinumResistance(COLDEST, r0), platinumResistance(HOTTEST, r0), 'the resistance of the thermometer')
  return whereReaches((temperature) => platinumResistance(temperature, r0), resistance, COLDEST, HOTTEST)
}

/** Allowed deviation in K: constant, and per kelvin away from 0 degC. Source: IEC 60751, classes A and B. */
const CLASSES = { A: [0.15, 0.002], B: [0.3, 0.005] } as const

/**
 * What a new thermometer of a class may be off:  A 0.15 + 0.002 |t|, B 0.3 + 0.005 |t|, as temperature [K] and as resistance
 * [ohm].
 * @param temperature [K]   @param r0 [ohm]   Source: IEC 60751.   @throws HalfsplitError VALUE_IMPOSSIBLE
 */
export function platinumTolerance(temperature: number, accuracy: 'A' | 'B', r0 = 100): { kelvin: number; ohm: number } {
  within(temperature, COLDEST, HOTTEST, 'the temperature of the thermometer')
  const t = temperature - ZERO_CELSIUS
  const [constant, slope] = CLASSES[accuracy]
  const kelvin = constant + slope * Math.abs(t)
  const cubic = t < 0 ? PLATINUM.c * (4 * t ** 3 - 300 * t ** 2) : 0
  return { kelvin, ohm: kelvin * r0 * (PLATINUM.a + 2 * PLATINUM.b * t + cubic) }
}
