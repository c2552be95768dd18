import { ASSUMPTIONS } from '@halfsplit/core'
import type { Branch, GroupEvidence, MarginCondition } from '@halfsplit/inference'
import type { Complaint } from './evidence.js'
import type { SizedFault } from './faults.js'
import type { PredictionStore } from './store.js'

/** The complaint is one record, whatever number of looks it ties together. */
const COMPLAINT = '  complaint'

export function complaintEvidence(complaint: Complaint | undefined): GroupEvidence[] {
  if (!complaint || complaint.shows.length === 0) return []
  return [{ id: COMPLAINT, records: [{ id: 'complaint', outcome: { kind: 'word', word: 0, words: 2 }, error: 0 }] }]
}

/**
 * How surely this complaint is heard, shown or not: the chance of a complaint that the machine does not show is shared among all that
 * an owner may make.
 */
export function heard(shown: number, complaints: number) {
  const probability = shown * ASSUMPTIONS.complaintIfShown + ((1 - shown) * ASSUMPTIONS.complaintIfNot) / Math.max(complaints, 1)
  return { kind: 'words', probabilities: [probability, 1 - probability] } as const
}

/** The complaint is heard more often where the machine shows all of it; what comes and goes was there when the owner saw it. */
export function complaintBranches(store: PredictionStore, { shows }: Complaint, faults: readonly SizedFault[]): Branch[] {
  let all: { conditions: readonly MarginCondition[]; shown: number }[] = [{ conditions: [], shown: 1 }]
  for (const show of shows) {
    const seen = shownBy(store, show, faults)
    all = all.flatMap((before) =>
      seen.flatMap(({ conditions, shown }) => {
        const both = joined(before.conditions, conditions)
        return both ? [{ conditions: both, shown: before.shown * shown }] : []
      }),
    )
  }
  return all.map(({ conditions, shown }) => ({ conditions, predictions: [heard(shown, store.machine.system.complaints.length)] }))
}

/** How surely one look of the complaint would be seen, by branch. */
function shownBy(store: PredictionStore, show: Complaint['shows'][number], faults: readonly SizedFault[]) {
  const { state, part: name, look: lookName, word } = show
  const part = store.machine.system.parts.get(name)
  const look = part?.kind.looks?.find((candidate) => candidate.name === lookName)
  if (!part || !look) throw new RangeError(`the complaint speaks of '${name}.${lookName}', which is no look of this machine`)
  return store.get(faults, { state }, [{ kind: 'look', part, look }]).map(({ conditions, predictions: [seen] }) => ({
    conditions,
    shown: seen.kind === 'words' ? seen.probabilities[look.words.indexOf(word)] : 0,
  }))
}

/** Both lists of conditions together, each once; undefined where one wants what the other excludes (states reached by the same way). */
function joined(p: readonly MarginCondition[], q: readonly MarginCondition[]): readonly MarginCondition[] | undefined {
  const fresh: MarginCondition[] = []
  for (const one of q) {
    const same = p.find((other) => other.mean === one.mean && other.sensitivities === one.sensitivities)
    if (!same) fresh.push(one)
    else if (same.side !== one.side) return undefined
  }
  return [...p, ...fresh]
}
