/** What a test's outcome or a repair does to weights. Weights are joint: suspect and all that was seen. */

import type { ReadyTrouble } from './ready.js'

/** Weights after an outcome of a test, into `to`. Returns their sum. */
export function afterOutcome(ready: ReadyTrouble, from: Float64Array, test: number, outcome: number, to: Float64Array): number {
  const column = ready.columns[test]
  const offset = outcome * ready.suspects
  let sum = 0
  for (let s = 0; s < ready.suspects; s++) {
    const weight = from[s] * column[offset + s]
    to[s] = weight
    sum += weight
  }
  return sum
}

/**
 * Weights after a repair whose proof look showed the fault still there, into `to` (not `from`). Returns the weighted cost beyond the
 * repair's own: new parts that were bad, and ends that were wrong because the look missed what was left.
 */
export function afterRepair(ready: ReadyTrouble, from: Float64Array, repair: number, to: Float64Array): number {
  const { suspects, fate, missed, wrongEnd, again, isSound, task } = ready
  const bad = task.badNewPart * again[repair]
  to.fill(0)
  let cost = 0
  for (let s = 0; s < suspects; s++) {
    const weight = from[s]
    if (weight === 0 || isSound[s]) continue
    const left = fate[repair * suspects + s]
    if (left !== s) cost += weight * bad
    if (left < 0) continue
    cost += weight * missed[left] * wrongEnd[left]
    to[left] += weight * (1 - missed[left])
  }
  return cost
}

/** Weighted cost of ending with these weights. */
export function endCost({ wrongEnd, suspects }: ReadyTrouble, weights: Float64Array): number {
  let cost = 0
  for (let s = 0; s < suspects; s++) cost += weights[s] * wrongEnd[s]
  return cost
}

export function sumOf(weights: Float64Array): number {
  let sum = 0
  for (let s = 0; s < weights.length; s++) sum += weights[s]
  return sum
}
