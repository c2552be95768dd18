import { ASSUMPTIONS } from '@halfsplit/core'
import { type Belief, type EvidenceRecord, mix, type Predictive, predictive, strayChance } from '@halfsplit/inference'
import type { LogItem } from '../evidence.js'
import { standingWithout } from '../explain.js'
import type { Standing } from '../view.js'
import { testId } from '../tests.js'
import { complaintGroups, type Place, readingPlaces } from './place.js'

/** How one record fits all the others. */
export interface Misfit {
  place: Place
  record: EvidenceRecord
  /** Probability, after everything, that this record is not what the machine showed: a slip of leads, eye or pen. */
  slip: number
  /**
   * Whether it was taken again: not yet; settled, it showed something else then; confirmed, it showed the same.
   */
  again: 'open' | 'settled' | 'confirmed'
  /** What the other records would have expected here, slips not counted. */
  expected: Predictive
}

/** How the readings fit together. */
export interface Fit {
  /** Worst first, those that may be asked for again before all others. */
  records: readonly Misfit[]
  /** Expected number of slips among the records that are open. */
  slips: number
  /** One reading that does not fit is to be taken again; two say that the fault is not in this description. */
  verdict: 'fits' | 'take again' | 'not described'
}

/** Expected number of slips from which one reading is asked for again, and from which the description is doubted. */
const ONE_ODD = 0.5
const TWO_ODD = 1.5
/** Belief in *something not in this description* at which it is said, whatever the slips. */
const DOUBTED = 0.5

/**
 * How well each reading fits what the others say. With p the probability of a record given all others, averaged over the hypotheses as the
 * others leave them (the conditional predictive ordinate; Geisser 1980, from memory), Bayes' rule gives the probability that it was a slip:
 *     P(slip | all) = P(slip and this record) / p
 * A slip is a number anywhere in the meter's range, or any other word of the list; its prior is the record's own error.
 * @param log as the standing was given: it knows of looks that were taken again and showed the same
 * Cost: one belief for each record, shared with `contributions`.  Checked in explain/misfit.test.ts
 */
export function fit(standing: Standing, log: readonly LogItem[] = []): Fit {
  const records = readingPlaces(standing).map((place) => misfit(standing, place, log))
  records.sort((p, q) => Number(q.again === 'open') - Number(p.again === 'open') || q.slip - p.slip)
  const slips = slipsOf(records, 'open')
  const stubborn = slipsOf(records, 'confirmed') >= ONE_ODD || standing.notDescribed >= DOUBTED
  return { records, slips, verdict: verdictOf(slips, stubborn) }
}

const slipsOf = (records: readonly Misfit[], which: Misfit['again']): number =>
  records.reduce((sum, { slip, again }) => sum + (again === which ? slip : 0), 0)

/** One odd reading is taken again first, whatever is believed; one that stays, or two, speak against the description. */
function verdictOf(slips: number, stubborn: boolean): Fit['verdict'] {
  if (slips >= TWO_ODD) return 'not described'
  if (slips >= ONE_ODD) return 'take again'
  return stubborn ? 'not described' : 'fits'
}

function misfit(standing: Standing, place: Place, log: readonly LogItem[]): Misfit {
  const record = standing.evidence[place.group].records[place.record]
  const rest = standingWithout(standing, place.group, place.record)
  const chance = Math.exp(describedLog(standing.belief) - describedLog(rest))
  const settled = standing.evidence[place.group].records.some((other) => other !== record && other.id === record.id)
  const confirmed = sameAgain(standing, place, log)
  const again = confirmed ? 'confirmed' : settled ? 'settled' : 'open'
  return { place, record, slip: slipChance(record, chance), again, expected: expectedBy(standing, rest, place) }
}

/** The same leads or the same look in the same setup, and the same seen: repeats stand as one record. */
function sameAgain(standing: Standing, { group, record }: Place, log: readonly LogItem[]): boolean {
  const { outcome, error } = standing.evidence[group].records[record]
  if (outcome.kind !== 'word') return error < ASSUMPTIONS.misread
  const { setup, segment, taken } = standing.groups[group - complaintGroups(standing)]
  const id = testId(setup, taken[record].probe)
  let actions = 0
  const same = log.filter((item) => {
    if (item.kind !== 'taken') actions += 1
    if (item.kind !== 'taken' || actions !== segment || testId(item.taken.setup, item.taken.probe) !== id) return false
    return item.taken.outcome.kind === 'word' && item.taken.outcome.word === outcome.word
  })
  return same.length > 1
}

/** Log probability of the list together with *something described*. */
const describedLog = ({ logEvidence, unknown }: Belief): number => logEvidence + Math.log1p(-Math.min(unknown, 1 - 1e-12))

/** @param chance of the record given all others, slips included */
export function slipChance(record: EvidenceRecord, chance: number): number {
  const { outcome, error } = record
  if (!(chance > 0) || error <= 0) return 0
  if (outcome.kind !== 'word') return Math.min(1, (error * strayChance({ ...record, error: 1 })) / chance)
  if (outcome.words < 2) return 0
  // chance = (1 - e) P + e (1 - P) / (k - 1), with P the probability of the word itself.
  const other = error / (outcome.words - 1)
  const word = Math.min(1, Math.max(0, (chance - other) / (1 - error - other)))
  return Math.min(1, (other * (1 - word)) / chance)
}

/** Share of the belief by which the expectation is worked out, and the most sized hypotheses for it. */
const HEAVY_SHARE = 0.985
const MOST_HEAVY = 24

function expectedBy({ predict }: Standing, rest: Belief, { group, record }: Place): Predictive {
  const cells = [...rest.cellProbability.keys()].sort((p, q) => rest.cellProbability[q] - rest.cellProbability[p])
  const parts: { weight: number; predictive: Predictive }[] = []
  let sum = 0
  for (const cell of cells) {
    const weight = rest.cellProbability[cell]
    if (!(weight > 0) || parts.length >= MOST_HEAVY || sum > HEAVY_SHARE * (1 - rest.unknown)) break
    sum += weight
    const branches = predict(cell, group).map((branch) => ({ ...branch, predictions: [branch.predictions[record]] }))
    parts.push({ weight, predictive: predictive(rest.states[cell], branches)[0] })
  }
  return parts.length > 0 ? mix(parts) : { normals: [], uniforms: [], words: [] }
}
