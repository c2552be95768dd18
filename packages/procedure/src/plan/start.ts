import { type Bench, type LogItem, minutesFor, type Standing, type Standpoint, testOf } from '@halfsplit/diagnosis'
import type { Complaint } from '@halfsplit/system'

/** Where a plan begins, and what is known there. */
export interface PlanStart {
  standing: Standing
  from: Standpoint
  /** Minutes from the parked machine to here. */
  minutes: number
  /** Looks taken already, by test id. */
  taken: ReadonlySet<string>
}

/**
 * With a complaint: it has been seen as the owner says. Without one: the parked machine, of which nothing is known but that one of its
 * faults is there.
 */
export function startOfPlan(bench: Bench, complaint: Complaint | undefined): PlanStart {
  const { system } = bench
  const [parked] = system.states.keys()
  let from: Standpoint = { setup: { state: parked }, places: [] }
  let minutes = 0
  const log: LogItem[] = []
  const taken = new Set<string>()
  for (const { state, part: name, look: lookName, word } of complaint?.shows ?? []) {
    const part = system.parts.get(name)
    const look = part?.kind.looks?.find((one) => one.name === lookName)
    if (!part || !look) throw new RangeError(`the complaint speaks of '${name}.${lookName}', which is no look of this machine`)
    const test = testOf(system, { state }, { kind: 'look', part, look })
    const outcome = { kind: 'word', word: look.words.indexOf(word), words: look.words.length } as const
    log.push({ kind: 'taken', taken: { setup: test.setup, probe: test.probe, outcome } })
    taken.add(test.id)
    minutes += minutesFor(system, test, from)
    from = { setup: test.setup, places: test.places }
  }
  return { standing: bench.standing(log, complaint), from, minutes, taken }
}
