import { ASSUMPTIONS, type MeterRange } from '@halfsplit/core'
import type { EvidenceRecord, Outcome } from '@halfsplit/inference'
import { type Setup, setupKey } from './setup.js'
import { probeKey, type TestProbe } from './probe.js'
import type { Provoked } from './provoke.js'

/** One reading or look as it was taken. */
export interface Taken {
  setup: Setup
  probe: TestProbe
  outcome: Outcome
  /** Range of the meter it was read in, where it is known. */
  range?: MeterRange
  /** Chance that the record says nothing of the machine; the ordinary misread floor when left out. */
  error?: number
}

/** What happened to the machine between readings. */
export type Done =
  /** A contact was disturbed: a plug pulled and put back, a part tapped or re-seated. `provoked`: what shows itself then is looked for. */
  | { kind: 'disturbed'; parts: readonly string[]; provoked?: Provoked }
  /** Repairs made, as `replace K7`. */
  | { kind: 'repaired'; repairs: readonly string[] }

export type LogItem = { kind: 'taken'; taken: Taken } | Done

/** What the owner says, tied to looks: each in a state, the word that fits. */
export interface Complaint {
  shows: readonly { state: string; part: string; look: string; word: string }[]
  /** How often it happens, 0 to 1, if the owner said. */
  howOften?: number
  workedOn?: boolean
  /** What an earlier job makes of the odds of each fault, by fault id (`priorFactors`). */
  priorFactors?: Readonly<Record<string, number>>
}

/** Records taken in one setup with no action in between: they share the machine's discrete state. */
export interface Group {
  id: string
  segment: number
  setup: Setup
  taken: readonly Taken[]
  records: readonly EvidenceRecord[]
}

/** The log cut at its actions; within a segment the order of readings is forgotten. */
export function groupsOf(log: readonly LogItem[]): { groups: Group[]; actions: Done[] } {
  const groups = new Map<string, { segment: number; setup: Setup; taken: Taken[] }>()
  const actions: Done[] = []
  for (const item of log) {
    if (item.kind !== 'taken') {
      actions.push(item)
      continue
    }
    const { taken } = item
    const id = `${actions.length} ${setupKey(taken.setup)}`
    const group = groups.get(id) ?? { segment: actions.length, setup: taken.setup, taken: [] }
    group.taken.push(taken)
    groups.set(id, group)
  }
  return {
    actions,
    groups: [...groups].map(([id, { segment, setup, taken }]) => {
      const once = withoutRepeats(taken)
      return { id, segment, setup, taken: once, records: once.map(recordOf) }
    }),
  }
}

/** Steps of the display within which two readings of one point with one meter are the same reading. */
const SAME_STEPS = 5

/**
 * The same leads on the same points in the same setup, or the same look again, tell nothing new but that it was no slip: repeats
 * become one reading, their mean, whose chance of being a misread is that of all of them being one. What disagrees stays apart.
 */
function withoutRepeats(taken: readonly Taken[]): Taken[] {
  const byProbe = new Map<string, Taken[]>()
  for (const one of taken) byProbe.set(probeKey(one.probe), [...(byProbe.get(probeKey(one.probe)) ?? []), one])
  return [...byProbe.values()].flatMap((same) => clusters([...same].sort((p, q) => place(p) - place(q))).map(merged))
}

/** Where a reading stands among its repeats: its number, or its word; a display over its range comes last. */
function place({ outcome }: Taken): number {
  if (outcome.kind === 'number') return outcome.value
  if (outcome.kind === 'word') return outcome.word
  return outcome.kind === 'interval' ? outcome.low : Number.POSITIVE_INFINITY
}

function clusters(sorted: readonly Taken[]): Taken[][] {
  const found: Taken[][] = []
  for (const one of sorted) {
    const last = found.at(-1)
    if (last && sameReading(last[0], one)) last.push(one)
    else found.push([one])
  }
  return found
}

function sameReading(p: Taken, q: Taken): boolean {
  const [a, b] = [p.outcome, q.outcome]
  if (a.kind !== b.kind || p.range?.top !== q.range?.top) return false
  if (a.kind === 'number' && b.kind === 'number') return Math.abs(a.value - b.value) <= 2 * SAME_STEPS * a.halfWidth
  return place(p) === place(q)
}

function merged(same: readonly Taken[]): Taken {
  const [first] = same
  const { outcome } = first
  if (same.length === 1 || outcome.kind === 'interval') return first
  const isWord = outcome.kind === 'word'
  const usual = isWord ? ASSUMPTIONS.lookError : ASSUMPTIONS.misread
  const independent = same.reduce((all, one) => all * (one.error ?? usual), 1)
  // The same eyes that slipped twice may slip a third time: a second look settles what looking again can settle.
  const error = isWord ? Math.max(independent, Math.min(...same.map((one) => one.error ?? usual)) ** 2) : independent
  if (outcome.kind !== 'number') return { ...first, error }
  const value = same.reduce((sum, one) => sum + place(one), 0) / same.length
  return { ...first, error, outcome: { ...outcome, value } }
}

export function recordOf({ probe, outcome, error }: Taken): EvidenceRecord {
  if (probe.kind === 'look') return { id: probeKey(probe), outcome, error: error ?? ASSUMPTIONS.lookError }
  return { id: probeKey(probe), outcome, error: error ?? ASSUMPTIONS.misread, range: misreadRange(probe) }
}

/** A misread number may be anything the meter's usual range can show. */
export function misreadRange(probe: Exclude<TestProbe, { kind: 'look' }>): { low: number; high: number } {
  const { ranges, zero = 0, quantity } = probe.meter
  const top =
    quantity === 'voltage'
      ? (ranges.find((range) => range.top > 30) ?? ranges[ranges.length - 1]).top
      : ranges[ranges.length - 1].top
  return { low: quantity === 'voltage' ? -top : zero, high: zero + top }
}
