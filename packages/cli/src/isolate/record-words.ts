import { complaintGroups, type Place, type Taken } from '@halfsplit/diagnosis'
import { shortWords } from '../words/test-words.js'
import { entryWords } from './answer.js'
import type { Case } from './case.js'

/** Number in the job of the entry behind a record; undefined for one of the complaint. */
export function entryAt(open: Case, { group, record }: Place): number | undefined {
  const { evidence } = open.standing
  const before = evidence.slice(0, group).reduce((sum, { records }) => sum + records.length, 0)
  return entryNumbers(open)[before + record]
}

/** The reading or look behind a record; undefined for one of the complaint. */
export const takenAt = ({ standing }: Case, { group, record }: Place): Taken | undefined =>
  standing.groups[group - complaintGroups(standing)]?.taken[record]

/** A record as it is spoken of: "3. volts from X1.1/a to X1.1/b, in on: 11.9 V". */
export function recordWords(open: Case, place: Place): string {
  const entry = entryAt(open, place)
  const made = entry === undefined ? undefined : open.job.entries[entry - 1]
  const taken = takenAt(open, place)
  if (!made || !taken) return 'what the owner says'
  return `${entry}. ${shortWords(taken)}: ${made.kind === 'look' ? made.word : entryWords(made)}`
}

/** Number in the job of each record of the evidence; undefined for those of the complaint. */
export function entryNumbers({ jobLog, standing }: Case): (number | undefined)[] {
  const numbers = new Map(jobLog.log.map((item, i) => [item.kind === 'taken' ? item.taken : undefined, jobLog.entryOf[i]]))
  const complaint = standing.evidence.length - standing.groups.length
  return [
    ...standing.evidence.slice(0, complaint).flatMap(({ records }) => records.map(() => undefined)),
    ...standing.groups.flatMap(({ taken }) => taken.map((one) => numbers.get(one))),
  ]
}
