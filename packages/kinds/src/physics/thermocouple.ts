import { whereReaches } from './interpolate.js'
import { within } from './require.js'

const ZERO_CELSIUS = 273.15

/** Reference function of type K, mV over degC, lowest power first. Source: NIST Monograph 175 (ITS-90), type K. */
const BELOW_ZERO = [
  0, 0.039450128025, 0.23622373598e-4, -0.32858906784e-6, -0.49904828777e-8, -0.67509059173e-10, -0.57410327428e-12,
  -0.31088872894e-14, -0.10451609365e-16, -0.19889266878e-19, -0.16322697486e-22,
]
const ABOVE_ZERO = [
  -0.017600413686, 0.038921204975, 0.1855877003e-4, -0.9945759288e-7, 0.31840945719e-9, -0.56072844889e-12, 0.56075059059e-15,
  -0.3202072e-18, 0.97151147152e-22, -0.12104721275e-25,
]
/** Magnetic change of the negative leg, added above zero: a0 exp(a1 (t − a2)²). */
const HUMP = [0.1185976, -0.1183432e-3, 126.9686] as const

/** Range of the reference function [K]: -270 to 1372 degC. */
const COLDEST = 3.15
const HOTTEST = 1645.15

const polynomial = (coefficients: readonly number[], x: number) => coefficients.reduceRight((sum, c) => sum * x + c, 0)

function millivolts(t: number): number {
  if (t < 0) return polynomial(BELOW_ZERO, t)
  return polynomial(ABOVE_ZERO, t) + HUMP[0] * Math.exp(HUMP[1] * (t - HUMP[2]) ** 2)
}

/**
 * Voltage of a type K thermocouple [V] between its hot junction and a cold one.
 * @param temperature of the hot junction, 3.15 to 1645.15 [K]   @param cold junction [K], 0 degC unless given
 * Source: NIST Monograph 175 (ITS-90).  Checked by the sensor rows of the handbook.   @throws HalfsplitError VALUE_IMPOSSIBLE
 */
export function typeKVoltage(temperature: number, cold = ZERO_CELSIUS): number {
  within(temperature, COLDEST, HOTTEST, 'the temperature of the hot junction')
  within(cold, COLDEST, HOTTEST, 'the temperature of the cold junction')
  return 1e-3 * (millivolts(temperature - ZERO_CELSIUS) - millivolts(cold - ZERO_CELSIUS))
}

/**
 * Temperature of the hot junction [K]: the reference function turned round, not the published inverse polynomials, which are
 * 0.05 K off.
 * @param voltage [V]   @param cold junction [K]   @throws HalfsplitError VALUE_IMPOSSIBLE
 */
export function typeKTemperature(voltage: number, cold = ZERO_CELSIUS): number {
  within(voltage, typeKVoltage(COLDEST, cold), typeKVoltage(HOTTEST, cold), 'the voltage of the thermocouple')
  return whereReaches((temperature) => typeKVoltage(temperature, cold), voltage, COLDEST, HOTTEST)
}
