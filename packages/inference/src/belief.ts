/** Exact belief over hypotheses from the joint likelihood of the whole list of records. */

import { type Branch, canonicalOrder, type GroupEvidence } from './evidence.js'
import { logAdd, logSum } from './interval.js'
import { type CellState, cellLikelihood } from './likelihood.js'
import { LIMITS, type Limits } from './paths.js'

/** A hypothesis at one node of its severity; `weight` is the node's prior share within its hypothesis (any positive scale). */
export interface Cell {
  readonly hypothesis: number
  readonly weight: number
}

/** What each cell predicts for the records of a group (index of the caller's list): at least one branch. */
export type Predict = (cell: number, group: number) => readonly Branch[]

/** What may be changed about `belief`. */
export interface BeliefOptions {
  /** Prior of *something not in this description*; 0 leaves it out. Assumption of design decision 7: 0.03. */
  readonly unknown?: number
  /** Hypotheses not followed any more, for being hopeless: they keep their share of the prior and of *something not described*. */
  readonly leftBehind?: LeftBehind
  readonly limits?: Partial<Limits>
  /** What is known already of a cell under this very list: it is not worked out again. */
  readonly known?: (cell: number) => CellState | undefined
}

/** Hypotheses that earlier records made hopeless. */
export interface LeftBehind {
  /** Prior weight, on the scale of the others' prior. */
  readonly prior: number
  /** Natural log of the probability of the whole list under them, each record being possibly a stray one; see `strayChance`. */
  readonly oddLog: number
}

/** Belief over hypotheses after a list of records, and what it rests on. */
export interface Belief {
  /** Probability of each hypothesis, in the order of the prior; with `unknown` they sum to one (all 0 on a contradiction). */
  readonly probability: Float64Array
  /** Probability of *something not in this description*. */
  readonly unknown: number
  /** Probability of each cell, `[cells]`: how severities were learnt along. */
  readonly cellProbability: Float64Array
  /** Natural log of the probability (density, where half-widths are 0) of the whole list, prior normalised. */
  readonly logEvidence: number
  /** The list is impossible under every hypothesis. */
  readonly contradiction: boolean
  /** What is known under each cell, for `predictive`. */
  readonly states: readonly CellState[]
  /** Natural log of the probability of the list under each cell. */
  readonly logLikelihood: Float64Array
}

/** Log prior of each cell: hypotheses on the scale of `total`, shares normalised within each hypothesis. */
export function cellLogPriors(cells: readonly Cell[], prior: ArrayLike<number>, total: number): Float64Array {
  const shares = new Float64Array(prior.length)
  for (const { hypothesis, weight } of cells) shares[hypothesis] += weight
  return Float64Array.from(cells, ({ hypothesis, weight }) =>
    Math.log(((prior[hypothesis] / total) * weight) / shares[hypothesis]),
  )
}

/**
 * Belief in each hypothesis after a list of records, by Bayes' rule with the joint likelihood of the whole list:
 *     P(h | list) ~ P(h) · sum over nodes s of share(s) · P(list | h, s)
 * All records of a job share the latent quantities, so a second reading of one point tells little. Severities are learnt along: see
 * `cellProbability`. The order of groups and of records is irrelevant, exactly. Under *something not in this description* each record
 * is with 0.8 as the modelled hypotheses say, jointly, and else broad.
 * @param cells hypotheses at their severity nodes   @param prior weight of each hypothesis, any positive scale   @param evidence [groups]
 * @param predict called once for each cell and group; must not depend on the order of calls
 * Throws RangeError where a prediction is missing or a record that may be wrong has no range.
 * Source: Bayes' rule; Kalman update (Kalman 1960) with moment matching at thresholds.  Checked in posterior reference cases and belief.prop.test.ts.
 */
export function belief(
  cells: readonly Cell[],
  prior: ArrayLike<number>,
  evidence: readonly GroupEvidence[],
  predict: Predict,
  options: BeliefOptions = {},
): Belief {
  const groups = canonicalOrder(evidence)
  const unknown = options.unknown ?? 0
  const limits = { ...LIMITS, ...(unknown === 0 ? { oddShare: 1 } : {}), ...options.limits }
  const states = cells.map((_, cell) => options.known?.(cell) ?? cellLikelihood(groups, (group) => predict(cell, group), limits))
  return weigh(cells, prior, states, unknown, options.leftBehind ?? NONE_LEFT)
}

const NONE_LEFT: LeftBehind = { prior: 0, oddLog: 0 }

/** The likelihood of a whole list under one cell, and what it teaches; `predict` as for `belief`. */
export function likelihoodOf(
  evidence: readonly GroupEvidence[],
  predict: (group: number) => readonly Branch[],
  limits: Partial<Limits> = {},
): CellState {
  return cellLikelihood(canonicalOrder(evidence), predict, { ...LIMITS, ...limits })
}

/** Belief from the likelihoods of the cells. */
function weigh(
  cells: readonly Cell[],
  prior: ArrayLike<number>,
  states: readonly CellState[],
  unknownPrior: number,
  leftBehind: LeftBehind,
): Belief {
  let total = leftBehind.prior
  for (let h = 0; h < prior.length; h++) total += prior[h]
  const logPrior = cellLogPriors(cells, prior, total)
  const logJoint = logPrior.map((log, cell) => log + states[cell].logLikelihood + Math.log1p(-unknownPrior))
  const oddLog = logAdd(
    logSum(logPrior.map((log, cell) => log + states[cell].oddLogLikelihood)),
    Math.log(leftBehind.prior / total) + leftBehind.oddLog,
  )
  const unknownLog = Math.log(unknownPrior) + oddLog
  const logEvidence = logAdd(logSum(logJoint), unknownLog)
  const contradiction = logEvidence === Number.NEGATIVE_INFINITY
  const share = (log: number) => (contradiction ? 0 : Math.exp(log - logEvidence))
  const cellProbability = logJoint.map(share)
  const probability = new Float64Array(prior.length)
  cells.forEach(({ hypothesis }, cell) => {
    probability[hypothesis] += cellProbability[cell]
  })
  const logLikelihood = Float64Array.from(states, (state) => state.logLikelihood)
  return { probability, unknown: share(unknownLog), cellProbability, logEvidence, contradiction, states, logLikelihood }
}
