import { positive } from './require.js'

/** Temperature at which the resistance of a thermistor is stated [K]. */
const AT_25 = 298.15

/** A thermistor by its resistance at 25 degC [ohm] and its beta [K], the slope of ln R over 1/T. */
export interface BetaThermistor {
  r25: number
  beta: number
}

/**
 * Resistance of an NTC thermistor [ohm]:  R25 exp(B (1/T − 1/298.15)).
 * @param temperature [K], > 0   Good to some per cent between the two temperatures beta was taken at.
 * Source: general text; two-point beta equation.  Checked by the sensor rows of the handbook.
 * @throws HalfsplitError VALUE_IMPOSSIBLE
 */
export function thermistorResistance({ r25, beta }: BetaThermistor, temperature: number): number {
  positive(temperature, 'the temperature of the thermistor')
  return positive(r25, 'the resistance at 25 degC') * Math.exp(positive(beta, 'beta') * (1 / temperature - 1 / AT_25))
}

/**
 * Temperature of an NTC thermistor [K] that reads `resistance` [ohm], > 0: `thermistorResistance` turned round.
 * @throws HalfsplitError VALUE_IMPOSSIBLE
 */
export function thermistorTemperature({ r25, beta }: BetaThermistor, resistance: number): number {
  const logarithm = Math.log(positive(resistance, 'the resistance') / positive(r25, 'the resistance at 25 degC'))
  return positive(1 / (1 / AT_25 + logarithm / positive(beta, 'beta')), 'the temperature of the thermistor')
}

/**
 * Beta [K] from two readings:  ln(R1/R2) / (1/T1 − 1/T2).
 * @param t1 @param t2 [K], not equal   @throws HalfsplitError VALUE_IMPOSSIBLE
 */
export function betaFrom(r1: number, t1: number, r2: number, t2: number): number {
  return positive(Math.log(positive(r1, 'R1') / positive(r2, 'R2')) / (1 / positive(t1, 'T1') - 1 / positive(t2, 'T2')), 'beta')
}

/** Coefficients of 1/T = A + B ln R + C (ln R)³, R in ohm [1/K]. Source: Steinhart & Hart 1968 (from memory). */
export interface SteinhartHart {
  a: number
  b: number
  c: number
}

/** The common thermistor of 10 kOhm at 25 degC, as published for sensors of that curve. */
export const THERMISTOR_10K: SteinhartHart = { a: 0.001129148, b: 0.000234125, c: 8.76741e-8 }

/**
 * Temperature [K] of a thermistor by Steinhart and Hart.
 * @param resistance [ohm], > 0   @throws HalfsplitError VALUE_IMPOSSIBLE
 */
export function steinhartTemperature({ a, b, c }: SteinhartHart, resistance: number): number {
  const logarithm = Math.log(positive(resistance, 'the resistance'))
  return positive(1 / (a + b * logarithm + c * logarithm ** 3), 'the temperature of the thermistor')
}

/**
 * Resistance [ohm] of a thermistor by Steinhart and Hart: the one real root of the cubic in ln R.
 * @param temperature [K], > 0   @throws HalfsplitError VALUE_IMPOSSIBLE
 */
export function steinhartResistance({ a, b, c }: SteinhartHart, temperature: number): number {
  const half = (a - 1 / positive(temperature, 'the temperature of the thermistor')) / (2 * positive(c, 'the coefficient C'))
  const root = Math.sqrt((b / (3 * c)) ** 3 + half ** 2)
  return Math.exp(Math.cbrt(root - half) - Math.cbrt(root + half))
}
