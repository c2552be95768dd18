import { notNegative, positive } from './require.js'

/** Boltzmann's constant [J/K] and the elementary charge [C], exact in the SI of 2019. */
const BOLTZMANN = 1.380649e-23
const CHARGE = 1.602176634e-19

/** Thermal voltage of a junction [V]:  kT/q. @param temperature [K], > 0   @throws HalfsplitError VALUE_IMPOSSIBLE */
export function thermalVoltage(temperature: number): number {
  return (BOLTZMANN * positive(temperature, 'the temperature of the junction')) / CHARGE
}

/** A junction: saturation current [A], emission coefficient [1] and temperature [K]. */
export interface Junction {
  saturation: number
  emission: number
  temperature: number
}

/**
 * Forward voltage of a junction [V]:  n Ut ln(1 + I/Is).
 * @param current [A], >= 0   Source: Shockley's equation.   @throws HalfsplitError VALUE_IMPOSSIBLE
 */
export function forwardVoltage({ saturation, emission, temperature }: Junction, current: number): number {
  const ratio = notNegative(current, 'the current') / positive(saturation, 'the saturation current')
  return emission * thermalVoltage(temperature) * Math.log1p(ratio)
}

/**
 * Current through a junction [A]:  Is (e^(U/(n Ut)) − 1).
 * @param voltage [V]   Source: Shockley's equation.   @throws HalfsplitError VALUE_IMPOSSIBLE
 */
export function junctionCurrent({ saturation, emission, temperature }: Junction, voltage: number): number {
  return saturation * Math.expm1(voltage / (positive(emission, 'the emission coefficient') * thermalVoltage(temperature)))
}

/** Step of voltage for ten times the current [V]:  n Ut ln 10. */
export const decadeStep = (temperature: number, emission = 1): number => emission * thermalVoltage(temperature) * Math.LN10

/**
 * Series resistor of an LED and the power it takes [ohm, W]:  (U − Uf)/I.
 * @param forward [V] @param current [A], > 0   @throws HalfsplitError VALUE_IMPOSSIBLE
 */
export function seriesResistor(supply: number, forward: number, current: number): { resistance: number; power: number } {
  const drop = notNegative(supply - forward, 'the supply less the forward voltage')
  return { resistance: drop / positive(current, 'the current'), power: drop * current }
}

/**
 * Voltage of a zener [V]:  Uz + rz (I − Iz).
 * @param rated Uz [V] at `ratedCurrent` Iz [A]   @param slope rz [ohm]   Source: general text.
 */
export function zenerVoltage(rated: number, ratedCurrent: number, slope: number, current: number): number {
  return rated + notNegative(slope, 'the slope resistance') * (current - ratedCurrent)
}
