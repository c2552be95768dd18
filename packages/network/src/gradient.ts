import type { Adjoint } from './adjoint.js'
import { adjointOf, directShare, type Probe } from './probe.js'
import type { Settled } from './settle.js'
import { type Change, slopes, slopesOf } from './slopes.js'

/**
 * Derivative of a probe with each parameter, by the adjoint: what a change of the parameter does to the balance at the settled
 * state, weighted by how the probe answers to it. Discrete states are kept as they are: near a threshold it says nothing.
 * @returns one value per change, in the probe's unit per unit of the parameter
 * Checked against full re-solves in gradient.prop.test.ts
 */
export function gradient(
  settled: Settled,
  probe: Probe,
  changes: readonly Change[],
  dual: Adjoint = adjointOf(settled, probe),
): Float64Array {
  const direct = 'through' in probe ? directShare(settled, probe) : undefined
  return slopesOf(slopes(settled, changes), dual, direct)
}
