import { within } from './require.js'

/** IAPWS-IF97 region 4, coefficients n1 to n10 (release R7-97, table 34). */
const N = [
  0.11670521452767e4, -0.72421316703206e6, -0.17073846940092e2, 0.1202082470247e5, -0.32325550322333e7, 0.1491510861353e2,
  -0.48232657361591e4, 0.40511340542057e6, -0.23855557567849, 0.65017534844798e3,
] as const

/** Triple point to critical point: temperatures [K] and pressures [Pa] of equation 30 and 31. */
const COLDEST = 273.15
const HOTTEST = 647.096
const LEAST = 611.213
const MOST = 22.064e6

/**
 * Pressure at which water of a temperature boils [Pa absolute].
 * @param temperature 273.15 to 647.096 [K]   Source: IAPWS R7-97(2012), equation 30.
 * Checked in steam.ref.test.ts and by the coolant rows of the handbook.   @throws HalfsplitError VALUE_IMPOSSIBLE
 */
export function saturationPressure(temperature: number): number {
  within(temperature, COLDEST, HOTTEST, 'the temperature of the water')
  const theta = temperature + N[8] / (temperature - N[9])
  const a = theta ** 2 + N[0] * theta + N[1]
  const b = N[2] * theta ** 2 + N[3] * theta + N[4]
  const c = N[5] * theta ** 2 + N[6] * theta + N[7]
  return 1e6 * ((2 * c) / (-b + Math.sqrt(b * b - 4 * a * c))) ** 4
}

/**
 * Temperature at which water boils [K].
 * @param pressure absolute, 611.213 to 22.064e6 [Pa]   Source: IAPWS R7-97(2012), equation 31.
 * @throws HalfsplitError VALUE_IMPOSSIBLE
 */
export function saturationTemperature(pressure: number): number {
  const beta = (within(pressure, LEAST, MOST, 'the absolute pressure of the water') / 1e6) ** 0.25
  const e = beta ** 2 + N[2] * beta + N[5]
  const f = N[0] * beta ** 2 + N[3] * beta + N[6]
  const g = N[1] * beta ** 2 + N[4] * beta + N[7]
  const d = (2 * g) / (-f - Math.sqrt(f * f - 4 * e * g))
  return (N[9] + d - Math.sqrt((N[9] + d) ** 2 - 4 * (N[8] + N[9] * d))) / 2
}

/**
 * Air pressure at an altitude [Pa]:  101325 (1 − 2.25577e-5 h)^5.25588.
 * @param altitude above the sea, -500 to 11000 [m]   Source: ISO 2533 standard atmosphere.
 * @throws HalfsplitError VALUE_IMPOSSIBLE
 */
export function airPressureAt(altitude: number): number {
  return 101325 * (1 - 2.25577e-5 * within(altitude, -500, 11000, 'the altitude')) ** 5.25588
}
