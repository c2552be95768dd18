import { type Belief, type GroupEvidence, type LeftBehind, strayChance } from '@halfsplit/inference'
import type { Hypothesis, SizedHypothesis } from './hypotheses.js'

/** Belief below which a sized hypothesis is not followed further: one misread cannot bring back what lies lower. */
const HOPELESS = 1e-12
/** The same for two faults at once: two faults and a misread are beyond a bench. */
const HOPELESS_PAIR = 1e-8

/** The sized hypotheses that are still followed, and the weight of those that are not. */
export interface Hope {
  sized: readonly SizedHypothesis[]
  /** Prior weight of what was left behind. */
  prior: number
  /** Log of how much better than by stray records alone the list was explained there, when it was left behind. */
  explained: number
}

/** A start where every hypothesis is followed. */
export const allFollowed = (sized: readonly SizedHypothesis[]): Hope => ({ sized, prior: 0, explained: 0 })

/** What is left behind as it weighs after some evidence: to it, every later record is a stray one. */
export const leftBehindIn = ({ prior, explained }: Hope, evidence: readonly GroupEvidence[]): LeftBehind => ({
  prior,
  oddLog: explained + allStray(evidence),
})

/** Leaves behind what a belief has made hopeless. `whole`: sum of the cells' weights of each hypothesis at the start. */
export function stillHopeful(
  { sized, prior: before, explained }: Hope,
  evidence: readonly GroupEvidence[],
  result: Belief,
  hypotheses: readonly Hypothesis[],
  whole: ArrayLike<number>,
): Hope {
  const stray = allStray(evidence)
  let prior = before
  let odd = before * Math.exp(explained)
  const kept = sized.filter(({ faults, hypothesis, weight }, i) => {
    if (result.cellProbability[i] > (faults.length > 1 ? HOPELESS_PAIR : HOPELESS)) return true
    const share = (hypotheses[hypothesis].weight * weight) / whole[hypothesis]
    prior += share
    odd += share * Math.exp(result.states[i].oddLogLikelihood - stray)
    return false
  })
  return { sized: kept, prior, explained: prior > 0 ? Math.log(odd / prior) : 0 }
}

/** Log of the chance of a whole list of stray records. */
export const allStray = (evidence: readonly GroupEvidence[]): number =>
  evidence.reduce((sum, { records }) => sum + records.reduce((log, record) => log + Math.log(strayChance(record)), 0), 0)
