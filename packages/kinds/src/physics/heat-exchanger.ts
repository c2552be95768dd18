import { evaluate } from '@halfsplit/network'
import { notNegative, positive, within } from './require.js'

/** How the two streams pass each other; cross flow with neither stream mixed, as in a radiator. */
export type Arrangement = 'counter' | 'parallel' | 'cross'

/**
 * Number of transfer units [1]:  UA/Cmin, and the ratio of capacity flows Cmin/Cmax [1].
 * @param ua [W/K]   @param hot @param cold capacity flows m cp [W/K], > 0
 */
export function transferUnits(ua: number, hot: number, cold: number): { ntu: number; ratio: number } {
  const least = Math.min(positive(hot, 'the capacity flow of the hot side'), positive(cold, 'the capacity flow of the cold side'))
  return { ntu: notNegative(ua, 'the conductance of the exchanger') / least, ratio: least / Math.max(hot, cold) }
}

function counter(ntu: number, ratio: number): number {
  if (1 - ratio < 1e-9) return ntu / (1 + ntu)
  const e = Math.exp(-ntu * (1 - ratio))
  return (1 - e) / (1 - ratio * e)
}

/** By the law of the network: heat for a kelvin, the smaller capacity flow being 1. Within 0.01 of a numerical solution. */
const cross = (ntu: number, ratio: number): number => evaluate({ law: 'exchanger', hot: 1, cold: 1 / ratio, ua: ntu }, 1, 0).f

/**
 * Effectiveness of an exchanger [1]: heat passed over the most that could be.
 * @param ntu >= 0 [1]   @param ratio of capacity flows, 0 to 1 [1]; 0 is a stream that boils or condenses, in any arrangement
 * Source: effectiveness-NTU relations, general text.  Checked by the heat rows of the handbook.
 * @throws HalfsplitError VALUE_IMPOSSIBLE
 */
export function effectiveness(arrangement: Arrangement, ntu: number, ratio: number): number {
  notNegative(ntu, 'the number of transfer units')
  within(ratio, 0, 1, 'the ratio of capacity flows')
  if (ntu === 0) return 0
  if (ratio < 1e-9) return -Math.expm1(-ntu)
  if (arrangement === 'counter') return counter(ntu, ratio)
  return arrangement === 'parallel' ? -Math.expm1(-ntu * (1 + ratio)) / (1 + ratio) : cross(ntu, ratio)
}

/** Heat passed [W]:  ε Cmin (Thot − Tcold). @param least Cmin [W/K]   @param hot @param cold inlet temperatures [K] */
export const exchangedHeat = (share: number, least: number, hot: number, cold: number): number => share * least * (hot - cold)
