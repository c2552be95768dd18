import { copperRatio, temperatureFromResistance } from '@halfsplit/core'
import { notNegative, positive } from './require.js'

/** Temperature at which the pull-in voltage of a relay is stated [K]. Source: SAE J2544 (23 degC). */
const AT_23 = 296.15

/**
 * Pull-in voltage with a coil at a temperature [V]: the current that pulls in stays the same.
 * @param at23 at 23 degC [V]   @param temperature of the coil [K]
 */
export function pullInAt(at23: number, temperature: number): number {
  return positive(at23, 'the pull-in voltage') * copperRatio(AT_23, positive(temperature, 'the temperature of the coil'))
}

/** Hottest coil that a voltage still pulls in [K]: `pullInAt` turned round.   @throws HalfsplitError VALUE_IMPOSSIBLE */
export function hottestPullIn(voltage: number, at23: number): number {
  return temperatureFromResistance(positive(voltage, 'the voltage'), positive(at23, 'the pull-in voltage'), AT_23)
}

/**
 * Greatest resistance of a closed relay contact under load [ohm]: 0.025 V an ampere.
 * Source: vehicle service bulletin of 1992.
 */
export const CONTACT_RESISTANCE = 25e-3

/** Greatest drop over a closed relay contact [V]. @param current [A], >= 0   @throws HalfsplitError VALUE_IMPOSSIBLE */
export const contactDrop = (current: number): number => CONTACT_RESISTANCE * notNegative(current, 'the current')

/** Coil voltage over rated between which a relay works, by class [1]. Source: IEC 61810-1 (from memory). */
export const OPERATIVE_RANGE: Readonly<Record<number, { least: number; most: number }>> = {
  1: { least: 0.8, most: 1.1 },
  2: { least: 0.85, most: 1.1 },
}

/**
 * Resistance limits of the meter's trade [ohm]: a coil above the first is open, a closed contact out of circuit is below the
 * second. Common practice, no source.
 */
export const OPEN_COIL = 1e6
export const CLOSED_CONTACT = 0.5

/**
 * Least insulation resistance [ohm]: winding below 1 kV, IEEE 43; between terminals of a plug at 500 V, SAE/USCAR-2 (both from
 * memory).
 */
export const INSULATION = { winding: 5e6, terminals: 100e6 } as const
