/** What each record says for and against each hypothesis, and what would follow if it were wrong. */

import { type Belief, type BeliefOptions, belief, type Cell, type Predict } from './belief.js'
import type { GroupEvidence } from './evidence.js'
import { logSum } from './interval.js'
import { strayChance } from './record-likelihood.js'

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
      const ifWrong = beliefWithout(cells, prior, evidence, predict, { group, record }, options)
      const average = all.logEvidence - ifWrong.logEvidence
      const rest = hypothesisLogs(cells, prior.length, ifWrong.logLikelihood)
      const decibans = logs.map((log, h) => (log === rest[h] ? -average : log - rest[h] - average) * DECIBANS_PER_NEPER)
      return { group, record, decibans, ifWrong }
    }),
  )
}

/**
 * The belief as it would be had one record not been taken; what was left behind loses that stray record too.
 * Arguments as for `belief`, with the place of the record in the caller's lists.
 */
export function beliefWithout(
  cells: readonly Cell[],
  prior: ArrayLike<number>,
  evidence: readonly GroupEvidence[],
  predict: Predict,
  { group, record }: { group: number; record: number },
  options: BeliefOptions = {},
): Belief {
  const { leftBehind } = options
  const stray = () => Math.log(strayChance(evidence[group].records[record]))
  const left = leftBehind && { ...leftBehind, oddLog: leftBehind.oddLog - stray() }
  const rest = evidence.map((one, g) => (g === group ? { ...one, records: without(one.records, record) } : one))
  const foretold: Predict = (cell, g) => {
    const branches = predict(cell, g)
    return g === group ? branches.map((branch) => ({ ...branch, predictions: without(branch.predictions, record) })) : branches
  }
  return belief(cells, prior, rest, foretold, { ...options, leftBehind: left })
}

const without = <T>(list: readonly T[], at: number): T[] => list.filter((_, i) => i !== at)
