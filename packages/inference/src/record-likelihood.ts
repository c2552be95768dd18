/** What one record says, apart from the latents: the chance of it when it is wrong, and the words. */

import type { EvidenceRecord, Outcome, Prediction } from './evidence.js'
import { pointNormal, type Truncated, truncatedNormal } from './interval.js'

/**
 * Chances of one record under one prediction. `other`: it came about without the predicted number (misread, or the broad part).
 * The `odd` pair is the same under *something not in this description*.
 */
export interface Chances {
  readonly good: number
  readonly other: number
  readonly oddGood: number
  readonly oddOther: number
}

/** Of wrong displays, the share that shows over-range (a lead not touching): assumption. */
export const OVER_RANGE_SHARE = 0.05

/** Under *something not in this description*, the share of readings that still are as the modelled hypotheses say: assumption (decision 7). */
export const MODELLED_SHARE = 0.8

function overlap(outcome: Outcome, low: number, high: number): number {
  if (outcome.kind === 'number' && outcome.halfWidth === 0) return outcome.value >= low && outcome.value <= high ? 1 : 0
  const [from, to] = intervalOf(outcome)
  return Math.max(0, Math.min(to, high) - Math.max(from, low))
}

/** Ends of what an outcome allows for the number it speaks of; a word says nothing of one. */
export function intervalOf(outcome: Outcome): [number, number] {
  switch (outcome.kind) {
    case 'number':
      return [outcome.value - outcome.halfWidth, outcome.value + outcome.halfWidth]
    case 'interval':
      return [outcome.low, outcome.high]
    case 'over-range':
      return outcome.side === -1 ? [Number.NEGATIVE_INFINITY, outcome.limit] : [outcome.limit, Number.POSITIVE_INFINITY]
    case 'word':
      return [Number.NaN, Number.NaN]
  }
}

function uniformChance(outcome: Outcome, low: number, high: number): number {
  return outcome.kind === 'word' ? 0 : overlap(outcome, low, high) / (high - low)
}

/** Chance of a record that says nothing of the quantity: uniform over the range, or equally any word. */
export function blindChance(record: EvidenceRecord): number {
  const { outcome, range } = record
  if (outcome.kind === 'word') return 1 / outcome.words
  if (outcome.kind === 'over-range') return OVER_RANGE_SHARE
  if (range === undefined) {
    if (record.error > 0) throw new RangeError(`record '${record.id}' may be wrong but gives no range for a wrong number`)
    return 0
  }
  return uniformChance(outcome, range.low, range.high)
}

/**
 * Chance of a record under *something not in this description* where no hypothesis predicts anything like it: it is stray, or wrong.
 * @returns [1], 0 to 1
 */
export function strayChance(record: EvidenceRecord): number {
  return blindChance(record) * (MODELLED_SHARE * record.error + 1 - MODELLED_SHARE)
}

/** What the record tells of the predicted number, normal with this mean and standard deviation; null when it speaks of something else. */
export function tellsOfNumber(outcome: Outcome, mean: number, sd: number): Truncated | null {
  if (outcome.kind === 'word') return null
  if (outcome.kind === 'number' && outcome.halfWidth === 0) {
    const point = pointNormal((outcome.value - mean) / sd)
    return { ...point, log: point.log - Math.log(sd) }
  }
  const [low, high] = intervalOf(outcome)
  return truncatedNormal((low - mean) / sd, (high - mean) / sd)
}

/** Chances of a word: a wrong record is equally any of the other words, so (1-e) P + e (1-P)/(k-1). */
export function wordChances(record: EvidenceRecord, prediction: Prediction): Chances {
  const { outcome, error } = record
  const sameKind = outcome.kind === 'word' && prediction.kind === 'words'
  const p = sameKind ? prediction.probabilities[outcome.word] : 0
  const blind = blindChance(record)
  const wrong = sameKind ? (outcome.words > 1 ? (1 - p) / (outcome.words - 1) : p) : blind
  const other = (1 - error) * p + error * wrong
  return { good: 0, other, oddGood: 0, oddOther: MODELLED_SHARE * other + (1 - MODELLED_SHARE) * blind }
}

/** Chances of a record of a number, but for the factor of the predicted number itself, which `good` and `oddGood` multiply. */
export function numberChances(record: EvidenceRecord, prediction: Prediction): Chances {
  const broad = prediction.kind === 'number' ? prediction.broad : undefined
  const share = broad?.weight ?? 0
  const blind = blindChance(record)
  const good = (1 - record.error) * (1 - share)
  const floating = broad === undefined ? 0 : share * uniformChance(record.outcome, broad.low, broad.high)
  const other = (1 - record.error) * floating + record.error * blind
  return { good, other, oddGood: MODELLED_SHARE * good, oddOther: MODELLED_SHARE * other + (1 - MODELLED_SHARE) * blind }
}
