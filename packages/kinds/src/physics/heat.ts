import { positive, within } from './require.js'

/**
 * A small body that warms evenly: density [kg/m³], specific heat [J/(kg K)] and the length volume/surface [m], D/6 for a
 * sphere.
 */
export interface LumpedBody {
  density: number
  heat: number
  length: number
}

/** Volume over surface of a sphere [m]. @param diameter [m], > 0   @throws HalfsplitError VALUE_IMPOSSIBLE */
export const sphereLength = (diameter: number): number => positive(diameter, 'the diameter') / 6

/**
 * Biot number [1]:  h L/k; a body below 0.1 warms evenly.
 * @param film h [W/(m² K)] @param conductivity k [W/(m K)]   Source: general text.
 */
export function biot(film: number, length: number, conductivity: number): number {
  return (film * length) / positive(conductivity, 'the conductivity')
}

/**
 * Time constant of a lumped body [s]:  ρ c L/h.
 * @param film h [W/(m² K)], > 0   Source: general text.   @throws HalfsplitError VALUE_IMPOSSIBLE
 */
export function lumpedTimeConstant({ density, heat, length }: LumpedBody, film: number): number {
  return (
    (positive(density, 'the density') * positive(heat, 'the specific heat') * length) / positive(film, 'the film coefficient')
  )
}

/**
 * Time [s] after which a share `left` (above 0, at most 1) of a step is still to come:  −τ ln left.
 * @throws HalfsplitError VALUE_IMPOSSIBLE
 */
export function timeUntilLeft(timeConstant: number, left: number): number {
  return -timeConstant * Math.log(within(left, Number.MIN_VALUE, 1, 'the share of the step that is left'))
}

/**
 * Temperature of a body that cools or warms into its surroundings [K]:  Ts + (T0 − Ts) e^(−t/τ).
 * Source: Newton's law of cooling.   @throws HalfsplitError VALUE_IMPOSSIBLE
 */
export function temperatureAfter(start: number, surroundings: number, timeConstant: number, time: number): number {
  return surroundings + (start - surroundings) * Math.exp(-time / positive(timeConstant, 'the time constant'))
}

/**
 * Time until such a body is at `target` [s], which lies between start and surroundings.
 * @throws HalfsplitError VALUE_IMPOSSIBLE
 */
export function timeToTemperature(start: number, surroundings: number, target: number, timeConstant: number): number {
  return timeUntilLeft(timeConstant, (target - surroundings) / (start - surroundings))
}

/** Stefan-Boltzmann constant [W/(m² K⁴)], exact in the SI of 2019. */
const STEFAN_BOLTZMANN = 5.670374419e-8

/**
 * Heat radiated by a small surface to its surroundings [W]:  ε σ A (T⁴ − Ts⁴).
 * @param emissivity 0 to 1   @param area [m²] @param temperature @param surroundings [K]
 */
export function radiatedHeat(emissivity: number, area: number, temperature: number, surroundings: number): number {
  return within(emissivity, 0, 1, 'the emissivity') * STEFAN_BOLTZMANN * area * (temperature ** 4 - surroundings ** 4)
}

/** Specific heat of cast iron [J/(kg K)] near room temperature. General text. */
export const IRON_HEAT = 460

/**
 * Time to warm by `rise` [K] with a power [W] and no loss [s]:  C dT/P.
 * @param capacity [J/K]   @throws HalfsplitError VALUE_IMPOSSIBLE
 */
export function warmUpTime(capacity: number, rise: number, power: number): number {
  return (positive(capacity, 'the heat capacity') * rise) / positive(power, 'the power')
}
