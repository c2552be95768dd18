import { positive, within } from './require.js'

/** A coil: resistance [ohm] and inductance [H]. */
export interface Coil {
  resistance: number
  inductance: number
}

/** Time constant of a coil [s]:  L/R.   @throws HalfsplitError VALUE_IMPOSSIBLE */
export function coilTimeConstant({ resistance, inductance }: Coil): number {
  return positive(inductance, 'the inductance') / positive(resistance, 'the resistance of the coil')
}

/**
 * Time until the current of a coil shorted on itself is down to a share of what it was [s]:  −(L/R) ln share; a diode's own
 * drop neglected.
 * @param share above 0 to 1
 */
export function coilDecayTime(coil: Coil, share: number): number {
  return -coilTimeConstant(coil) * Math.log(within(share, Number.MIN_VALUE, 1, 'the share of the current'))
}

/**
 * What happens when a coil is switched off into a clamp: current before [A], time until it is zero [s], energy the clamp takes
 * [J].
 *     t = (L/R) ln(1 + I0 R/Uc)      E = Uc (I0 L/R − Uc t/R)
 * @param supply [V]   @param clamp voltage across the coil [V], > 0: 0.8 V for a plain diode
 * Source: general text (R-L circuit).  Checked by the diode rows of the handbook.   @throws HalfsplitError VALUE_IMPOSSIBLE
 */
export function clampedTurnOff(coil: Coil, supply: number, clamp: number): { current: number; time: number; energy: number } {
  const tau = coilTimeConstant(coil)
  const current = positive(supply, 'the supply') / coil.resistance
  const time = tau * Math.log1p((current * coil.resistance) / positive(clamp, 'the clamp voltage'))
  return { current, time, energy: clamp * (current * tau - (clamp * time) / coil.resistance) }
}
