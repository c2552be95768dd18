/** The log as it counts: without what was taken back, and cut where the machine was changed. */

import type { Action, CouldNot, Entry, Found, Look, Reading, Repair } from './entry.js'
import type { Job } from './job.js'

/** An entry that counts, with its number in the log (from 1). */
export interface NumberedEntry {
  readonly number: number
  readonly entry: Exclude<Entry, { kind: 'undo' }>
}

/** The entries that count, in order: an undo that is not itself taken back removes the entry it names, and never counts itself. */
export function effectiveEntries({ entries }: Pick<Job, 'entries'>): NumberedEntry[] {
  const takenBack = new Set<number>()
  for (let i = entries.length - 1; i >= 0; i--) {
    const entry = entries[i]
    if (entry.kind === 'undo' && !takenBack.has(i + 1)) takenBack.add(entry.entry)
  }
  return entries.flatMap((entry, i) => (entry.kind === 'undo' || takenBack.has(i + 1) ? [] : [{ number: i + 1, entry }]))
}

/** Defects met on the way that do not explain the complaint, with their numbers in the log. */
export const foundOnTheWay = (job: Pick<Job, 'entries'>): { readonly number: number; readonly entry: Found }[] =>
  effectiveEntries(job).flatMap(({ number, entry }) => (entry.kind === 'found' ? [{ number, entry }] : []))

/** Observations with no change to the machine between them: their order does not matter. */
export interface Segment {
  /** What changed the machine just before; null for the first segment. */
  readonly after: Action | Repair | null
  readonly entries: readonly (Reading | Look | CouldNot)[]
}

/**
 * Cuts entries at every action and repair. There is always a first segment, possibly empty. A defect met on the way says nothing of the
 * complaint and stands in no segment.
 */
export function segments(entries: readonly Exclude<Entry, { kind: 'undo' }>[]): Segment[] {
  const list: { after: Segment['after']; entries: (Reading | Look | CouldNot)[] }[] = [{ after: null, entries: [] }]
  for (const entry of entries) {
    if (entry.kind === 'action' || entry.kind === 'repair') list.push({ after: entry, entries: [] })
    else if (entry.kind !== 'found') list[list.length - 1].entries.push(entry)
  }
  return list
}
