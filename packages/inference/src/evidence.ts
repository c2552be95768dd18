/** The words in which evidence and predictions are said: records, groups of records, branches, predictions. No system is known here. */

/**
 * How a quantity moves with the latent quantities of a job (independent, standard normal, drawn once and shared by all readings):
 * parallel arrays, latent index rising, value in units of the quantity per standard deviation of the latent.
 */
export interface Sensitivities {
  readonly index: ArrayLike<number>
  readonly value: ArrayLike<number>
}

/** No latent quantity at all. */
export const NO_SENSITIVITIES: Sensitivities = { index: [], value: [] }

/**
 * A margin of a threshold, linear in the latents: `mean + J·z`, plus a fresh normal part. The branch holds where the margin is
 * not negative (side +1) or negative (side -1). Unit: that of the margin.
 */
export interface MarginCondition {
  readonly mean: number
  readonly sensitivities: Sensitivities
  readonly side: 1 | -1
  readonly freshSd?: number
}

/** Part of a prediction that knows nothing but two ends, as at a floating node: uniform over `low..high` with `weight` (0 to 1). */
export interface BroadPart {
  readonly weight: number
  readonly low: number
  readonly high: number
}

/** A predicted number: normal, `mean + J·z + fresh`, with an optional broad part. Unit: that of the reading. */
export interface NumberPrediction {
  readonly kind: 'number'
  readonly mean: number
  readonly sensitivities: Sensitivities
  /** Standard deviation of what is drawn anew at each reading (probe contact), display rounding not counted. */
  readonly freshSd: number
  readonly broad?: BroadPart
}

/** A predicted word: one probability for each word of the list. */
export interface WordsPrediction {
  readonly kind: 'words'
  readonly probabilities: ArrayLike<number>
}

/** What is predicted for one record. */
export type Prediction = NumberPrediction | WordsPrediction

/** One discrete state the machine may be in at a setup: it holds where all conditions hold. Predictions stand in the order of the records. */
export interface Branch {
  readonly conditions: readonly MarginCondition[]
  readonly predictions: readonly Prediction[]
}

/** What was seen. A number with `halfWidth` 0 counts by its density, else by the probability of its rounding interval. */
export type Outcome =
  | { readonly kind: 'number'; readonly value: number; readonly halfWidth: number }
  /** The display said it was beyond its range: the quantity is above `limit` (side +1) or below it (side -1). */
  | { readonly kind: 'over-range'; readonly limit: number; readonly side?: 1 | -1 }
  | { readonly kind: 'interval'; readonly low: number; readonly high: number }
  /** The word with this index, of a list of so many. */
  | { readonly kind: 'word'; readonly word: number; readonly words: number }

/** One reading or look: `error` is the probability that the record says nothing of the quantity; a wrong number is uniform over `range`. */
export interface EvidenceRecord {
  readonly id: string
  readonly outcome: Outcome
  readonly error: number
  /** Needed for numbers and intervals where `error` is above zero or *something else* is believed possible. */
  readonly range?: { readonly low: number; readonly high: number }
}

/** Records taken at one setup of the machine with no action in between: they share the machine's discrete state. */
export interface GroupEvidence {
  readonly id: string
  readonly records: readonly EvidenceRecord[]
}

function compareText(a: string, b: string): number {
  return a < b ? -1 : a > b ? 1 : 0
}

function outcomeKey(outcome: Outcome): number {
  switch (outcome.kind) {
    case 'number':
      return outcome.value
    case 'over-range':
      return outcome.limit
    case 'interval':
      return outcome.low
    case 'word':
      return outcome.word
  }
}

function compareRecords(a: EvidenceRecord, b: EvidenceRecord): number {
  return (
    compareText(a.id, b.id) ||
    compareText(a.outcome.kind, b.outcome.kind) ||
    outcomeKey(a.outcome) - outcomeKey(b.outcome) ||
    a.error - b.error
  )
}

function compareRecordLists(a: readonly EvidenceRecord[], b: readonly EvidenceRecord[]): number {
  for (let i = 0; i < Math.min(a.length, b.length); i++) {
    const order = compareRecords(a[i], b[i])
    if (order !== 0) return order
  }
  return a.length - b.length
}

/** A group in the one order in which the likelihood is computed, with the places its parts had in the caller's order. */
export interface OrderedGroup {
  readonly group: number
  readonly records: readonly EvidenceRecord[]
  /** `places[i]` is the caller's place of `records[i]`, hence of its prediction. */
  readonly places: readonly number[]
}

/** Groups and records in canonical order (by id, then by what was seen), so that the belief cannot depend on the order of taking them. */
export function canonicalOrder(evidence: readonly GroupEvidence[]): OrderedGroup[] {
  const ordered = evidence.map(({ records }, group) => {
    const places = records.map((_, i) => i).sort((a, b) => compareRecords(records[a], records[b]) || a - b)
    return { group, records: places.map((i) => records[i]), places }
  })
  return ordered.sort(
    (a, b) =>
      compareText(evidence[a.group].id, evidence[b.group].id) || compareRecordLists(a.records, b.records) || a.group - b.group,
  )
}
