import { complaintGroups, type Place } from '@halfsplit/diagnosis'
import { shortWords } from '../words/test-words.js'
import { entryWords } from './answer.js'
import type { Case } from './case.js'
import { entryNumbers } from './document.js'

/** Number in the job of the entry behind a record; undefined for one of the complaint. */
export function entryAt(open: Case, { group, record }: Place): number | undefined {
  const { evidence } = open.standing
  const before = evidence.slice(0, group).reduce((sum, { records }) => sum + records.length, 0)
  return entryNumbers(open)[before + record]
}

/** A record as it is spoken of: "3. volts from X1.1/a to X1.1/b, in on: 11.9 V". */
export function recordWords(open: Case, place: Place): string {
  const { job, standing } = open
  const entry = entryAt(open, place)
  const made = entry === undefined ? undefined : job.entries[entry - 1]
  const taken = standing.groups[place.group - complaintGroups(standing)]?.taken[place.record]
  if (!made || !taken) return 'what the owner says'
  return `${entry}. ${shortWords(taken)}: ${made.kind === 'look' ? made.word : entryWords(made)}`
}
