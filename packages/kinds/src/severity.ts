import type { Dimension } from '@halfsplit/core'
import type { Severity } from './kind.js'

/** Sizes spread evenly in the logarithm from one value to another [SI]; 7 to 15 nodes serve. */
export function logSeverity(dimension: Dimension, from: number, to: number, count = 9): Severity {
  const ratio = (to / from) ** (1 / (count - 1))
  return { dimension, scale: 'log', nodes: Array.from({ length: count }, (_, i) => from * ratio ** i) }
}

/** Shifts to both sides, from just beyond the healthy limit outwards: -6, -4, ... +4, +6 times `unit`, half the tolerance say. */
export function shiftSeverity(dimension: Dimension, unit: number, steps: readonly number[] = [1.5, 2.5, 4, 6]): Severity {
  const up = steps.map((step) => step * unit)
  return { dimension, scale: 'linear', nodes: [...up.map((value) => -value).reverse(), ...up] }
}

/** Added resistance of a bad joint or contact: from where the healthy spread ends up to where it is as good as open [ohm]. */
export const jointSeverity = (from = 0.05, to = 1e6): Severity => logSeverity('resistance', from, to, 10)

/** Three sd of a healthy joint, whose one sd is a factor of 2 (see `jointFactor` of the assumptions). */
const END_OF_HEALTHY = 8

/** Added resistance of a bad joint or contact, from where the spread of a healthy one of this resistance ends [ohm]. */
export const beyondJoint = (healthy: number): Severity => jointSeverity(END_OF_HEALTHY * healthy)

/** Share of a passage that is blocked, from where flow begins to suffer to shut [1]. An assumption. */
export const blockedSeverity = (nodes: readonly number[] = [0.7, 0.9, 0.97, 0.99, 0.997, 1]): Severity => ({
  dimension: 'fraction',
  scale: 'linear',
  nodes,
})

/** Leak to the open air as a sonic conductance, from 2 to 250 l/min out of 8 bar [m3/(s.Pa)]. An assumption. */
export const leakSeverity = (from = 4e-11, to = 5e-9): Severity => logSeverity('sonicConductance', from, to, 8)
