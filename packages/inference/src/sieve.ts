/** A quick look at a list of records: enough to leave aside, without a closer look, hypotheses that can't matter any more. */

import type { Branch, EvidenceRecord, OrderedGroup, Prediction } from './evidence.js'
import type { CellState } from './likelihood.js'
import { intervalOf, numberChances, wordChances } from './record-likelihood.js'

/**
 * Readings share what they hang on, so one that is far out may drag the others along; and a size not yet learnt closely lies beside what was
 * read. Each deviation counts for a sixth.
 */
const SHARED = 6
const SQRT_TWO_PI = Math.sqrt(2 * Math.PI)

/**
 * Log of how well records taken in one setup fit a prediction, each by itself and forgivingly (deviations count a sixth, the best
 * branch counts alone): a rough figure, the higher the less is ruled out. Cost: one square root for each branch and record.
 */
export function roughLog({ records, places }: OrderedGroup, branches: readonly Branch[]): number {
  let best = Number.NEGATIVE_INFINITY
  for (const { predictions } of branches) {
    let sum = 0
    for (let i = 0; i < records.length; i++) sum += roughRecord(records[i], predictions[places[i]])
    if (sum > best) best = sum
  }
  return best
}

function roughRecord(record: EvidenceRecord, prediction: Prediction): number {
  const { outcome } = record
  if (outcome.kind === 'word' || prediction.kind === 'words') return Math.log(wordChances(record, prediction).other)
  const { good, other } = numberChances(record, prediction)
  let variance = prediction.freshSd * prediction.freshSd
  const { value } = prediction.sensitivities
  for (let i = 0; i < value.length; i++) variance += value[i] * value[i]
  const sd = Math.sqrt(variance)
  const [low, high] = intervalOf(outcome)
  const off = Math.max(low - prediction.mean, prediction.mean - high, 0)
  const z = off === 0 ? 0 : off / (SHARED * sd)
  const width = high - low
  // A point counts by its density, a display by the probability of its step.
  const peak = width > 0 ? Math.min(1, width / (sd * SQRT_TWO_PI)) : 1 / (sd * SQRT_TWO_PI)
  return Math.log(good * (off > 0 && sd === 0 ? 0 : peak * Math.exp(-0.5 * z * z)) + other)
}

/**
 * What stands for a cell that was left aside: its rough likelihood. Should someone ask what it predicts all the same, `whole` works
 * out then what is known under it.
 */
export function leftAside(log: number, oddLog: number, whole: () => CellState): CellState {
  let state: CellState | undefined
  const full = (): CellState => {
    state ??= whole()
    return state
  }
  return {
    get rows() {
      return full().rows
    },
    get paths() {
      return full().paths
    },
    logLikelihood: log,
    oddLogLikelihood: oddLog,
  }
}
