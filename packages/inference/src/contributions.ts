/** What each record says for and against each hypothesis, and what would follow if it were wrong. */

import { type Belief, type BeliefOptions, belief, type Cell, type Predict } from './belief.js'
import type { GroupEvidence } from './evidence.js'
import { logSum } from './interval.js'

/** What one record says, all others given. */
export interface Contribution {
  /** Place of the record: group and record in the caller's lists. */
  readonly group: number
  readonly record: number
  /**
   * For each hypothesis, 10 log10 of the factor by which this record moved its probability, all other records given [deciban]:
   * above zero it speaks for the hypothesis, below against.
   */
  readonly decibans: Float64Array
  /** The belief if this record were a misread: as if it had not been taken. */
  readonly ifWrong: Belief
}

const DECIBANS_PER_NEPER = 10 / Math.LN10

/** Log likelihood of each hypothesis: its cells weighed by their shares. */
function hypothesisLogs(cells: readonly Cell[], hypotheses: number, logLikelihood: ArrayLike<number>): Float64Array {
  const terms: number[][] = Array.from({ length: hypotheses }, () => [])
  const shares = new Float64Array(hypotheses)
  for (const { hypothesis, weight } of cells) shares[hypothesis] += weight
  cells.forEach(({ hypothesis, weight }, cell) =>
    terms[hypothesis].push(Math.log(weight / shares[hypothesis]) + logLikelihood[cell]),
  )
  return Float64Array.from(terms, logSum)
}

/**
 * For each record, the joint likelihood with all records against the joint likelihood without it, relative to the average over the
 * hypotheses. Because records share latents this is not the likelihood of the record alone: the second reading of one point says
 * little. Contributions do not add up to the whole for the same reason.
 * Arguments as for `belief`, and its result. Cost: one belief for each record.
 */
export function contributions(
  cells: readonly Cell[],
  prior: ArrayLike<number>,
  evidence: readonly GroupEvidence[],
  predict: Predict,
  all: Belief,
  options: BeliefOptions = {},
): Contribution[] {
  const logs = hypothesisLogs(cells, prior.length, all.logLikelihood)
  return evidence.flatMap(({ records }, group) =>
    records.map((_, record) => {
      const ifWrong = belief(cells, prior, without(evidence, group, record), withoutPrediction(predict, group, record), options)
      const average = all.logEvidence - ifWrong.logEvidence
      const rest = hypothesisLogs(cells, prior.length, ifWrong.logLikelihood)
      const decibans = logs.map((log, h) => (log === rest[h] ? -average : log - rest[h] - average) * DECIBANS_PER_NEPER)
      return { group, record, decibans, ifWrong }
    }),
  )
}

function without(evidence: readonly GroupEvidence[], group: number, record: number): GroupEvidence[] {
  return evidence.map((g, i) => (i === group ? { ...g, records: g.records.filter((_, r) => r !== record) } : g))
}

function withoutPrediction(predict: Predict, group: number, record: number): Predict {
  return (cell, g) => {
    const branches = predict(cell, g)
    if (g !== group) return branches
    return branches.map((branch) => ({ ...branch, predictions: branch.predictions.filter((_, r) => r !== record) }))
  }
}
