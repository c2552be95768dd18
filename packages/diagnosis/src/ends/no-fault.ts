import { ASSUMPTIONS } from '@halfsplit/core'
import { looksNeeded } from '@halfsplit/inference'
import type { Bench } from '../bench.js'
import type { LogItem } from '../evidence.js'
import { verdict } from '../explain.js'
import { type Good, goodAt } from '../prove/exposure.js'
import { isGood } from '../prove/proof.js'
import { type SizedFault, sized, stretches } from '../faults.js'
import { testId } from '../tests.js'
import type { TestProbe } from '../probe.js'
import type { Setup } from '../setup.js'
import type { Standing } from '../view.js'

/** A look of the complaint: how often it was taken, and how often it has to be good before it may be said that nothing was found. */
export interface ComplaintLook {
  setup: Setup
  probe: Extract<TestProbe, { kind: 'look' }>
  good: number
  taken: number
  needed: number
}

/** A suspect that readings spoke against. */
export interface Excluded {
  repair: string
  /** Belief after the complaint alone, and now. */
  before: number
  now: number
  /** How far its odds fell [bit]. */
  bits: number
}

export interface OpenSuspect {
  repair: string
  /** Belief in faults of it that come and go. */
  probability: number
  /** The same, if something comes and goes at all. */
  share: number
}

/** What to look at when it happens again: which of those still open show which word. */
export interface LogNext {
  setup: Setup
  probe: Extract<TestProbe, { kind: 'look' }>
  words: readonly { word: string; repairs: readonly string[] }[]
}

/** How far a job is that found nothing. */
export interface NoFaultFound {
  /** An honest end: every look of the complaint was good often enough, nothing else is excluded. */
  reached: boolean
  looks: readonly ComplaintLook[]
  /** Chance that a fault as frequent as the owner says hid all this while by luck. */
  byLuck: number
  /** Belief that nothing is wrong, or that it is not there now. */
  sound: number
  excluded: readonly Excluded[]
  /** Suspects that come and go and were not excluded, likeliest first. */
  open: readonly OpenSuspect[]
  logNext: readonly LogNext[]
}

const HIDDEN_BY_LUCK = 0.05
/** Belief in faults that are always there, above which the job is not at its end. */
const STEADY_LEFT = 0.1
const MOST_OPEN = 8
const MOST_LOGGED = 3
/** Share of what comes and goes under which a suspect is not named. */
const LEAST_OPEN = 0.02

/**
 * Whether *no fault found* is an honest end here, what was excluded, what was not, and what to note when it happens next. It is one where
 * every look of the complaint was good so often that a fault that shows as often as the owner says would have hidden by luck at most 1 time
 * in 20, no look of it was bad, no repair is believed enough to be made, and faults that are always there hold at most a tenth of the belief.
 * @param log as the standing was given
 */
export function noFaultFound(bench: Bench, standing: Standing, log: readonly LogItem[]): NoFaultFound {
  const often = standing.complaint?.howOften ?? ASSUMPTIONS.intermittentPresent
  const looks = complaintLooks(bench, standing, log, often)
  const least = Math.min(...looks.map(({ good }) => good))
  const allGood = looks.length > 0 && looks.every(({ good, taken, needed }) => good === taken && good >= needed)
  const open = openSuspects(standing)
  return {
    reached: allGood && verdict(standing).kind === 'test-on' && steady(standing) <= STEADY_LEFT,
    looks,
    byLuck: looks.length > 0 ? (1 - often) ** least : 1,
    sound: standing.nothingWrong + standing.absentNow,
    excluded: excludedRepairs(bench, standing).filter((one) => !open.some(({ repair }) => repair === one.repair)),
    open,
    logNext: logNext(
      bench,
      standing,
      open.map(({ repair }) => repair),
    ),
  }
}

function complaintLooks(bench: Bench, { complaint }: Standing, log: readonly LogItem[], often: number): ComplaintLook[] {
  return (complaint?.shows ?? []).flatMap(({ state, part: name, look: lookName }) => {
    const part = bench.system.parts.get(name)
    const look = part?.kind.looks?.find((one) => one.name === lookName)
    if (!part || !look) return []
    const setup: Setup = { state }
    const probe = { kind: 'look', part, look } as const
    const good = goodAt(bench, setup, probe)
    const id = testId(setup, probe)
    const taken = log.flatMap((item) =>
      item.kind === 'taken' && testId(item.taken.setup, item.taken.probe) === id ? [item.taken] : [],
    )
    const fine = taken.filter((one) => good && isGood(one, good)).length
    return [{ setup, probe, good: fine, taken: taken.length, needed: looksNeeded(often, HIDDEN_BY_LUCK) }]
  })
}

/** Belief in hypotheses with a fault that is there at every look. */
const steady = ({ hypotheses, belief: { probability } }: Standing): number =>
  hypotheses.reduce((sum, { faults }, h) => sum + (faults.some(({ mode }) => !mode.intermittent) ? probability[h] : 0), 0)

/** Suspects that the complaint alone left above the threshold and readings brought below it, those that fell furthest first. */
function excludedRepairs(bench: Bench, standing: Standing): Excluded[] {
  const now = new Map(standing.repairs.map(({ repair, probability }) => [repair, probability]))
  return bench
    .standing([], standing.complaint)
    .repairs.map(({ repair, probability: before }) => ({ repair, before, now: now.get(repair) ?? 0 }))
    .filter((one) => one.before > ASSUMPTIONS.clearedBelow && one.now <= ASSUMPTIONS.clearedBelow)
    .map((one) => ({ ...one, bits: log2Odds(one.before) - log2Odds(one.now) }))
    .sort((p, q) => q.bits - p.bits || (p.repair < q.repair ? -1 : 1))
}

const SMALLEST = 1e-12
const log2Odds = (p: number): number => Math.log2(Math.max(p, SMALLEST) / Math.max(1 - p, SMALLEST))

/** Belief in what comes and goes, by repair. */
function openSuspects({ hypotheses, belief: { probability } }: Standing): OpenSuspect[] {
  const found = new Map<string, number>()
  let total = 0
  hypotheses.forEach(({ faults }, h) => {
    if (faults.length === 0 || !faults.every(({ mode }) => mode.intermittent)) return
    total += probability[h]
    for (const { repair } of faults) found.set(repair, (found.get(repair) ?? 0) + probability[h])
  })
  return [...found]
    .map(([repair, one]) => ({ repair, probability: one, share: one / total }))
    .filter(({ share }) => share >= LEAST_OPEN)
    .sort((p, q) => q.share - p.share || (p.repair < q.repair ? -1 : 1))
    .slice(0, MOST_OPEN)
}

/** Looks in the complaint's states that tell those still open apart while it happens, the most telling first. */
function logNext(bench: Bench, standing: Standing, open: readonly string[]): LogNext[] {
  const faults = open.flatMap((repair) => comingAndGoing(standing, repair) ?? [])
  const states = new Set((standing.complaint?.shows ?? []).map(({ state }) => state))
  return bench.tests
    .flatMap(({ setup, probe }) =>
      probe.kind === 'look' && states.has(setup.state) && !setup.intervention ? [wordsOf(bench, setup, probe, faults)] : [],
    )
    .filter(({ words }) => words.length > 1)
    .map((one) => ({ one, largest: Math.max(...one.words.map(({ repairs }) => repairs.length)) }))
    .sort((p, q) => p.largest - q.largest || q.one.words.length - p.one.words.length)
    .slice(0, MOST_LOGGED)
    .map(({ one }) => one)
}

interface Suspected {
  repair: string
  faults: readonly SizedFault[]
}

/** The likeliest single fault of a repair that comes and goes. */
function comingAndGoing({ hypotheses, belief: { probability } }: Standing, repair: string): Suspected | undefined {
  const alone = hypotheses
    .map(({ faults }, h) => ({ faults, probability: probability[h] }))
    .filter(({ faults }) => faults.length === 1 && faults[0].mode.intermittent && faults[0].repair === repair)
    .sort((p, q) => q.probability - p.probability)
  const faults = alone[0]?.faults
  return faults && { repair, faults: faults.map((fault) => sized(fault, middleOf(stretches(fault.severity)))) }
}

const middleOf = <T>(list: readonly T[]): T => list[list.length >> 1]

function wordsOf(bench: Bench, setup: Setup, probe: LogNext['probe'], suspects: readonly Suspected[]): LogNext {
  const found = new Map<string, string[]>()
  for (const { repair, faults } of suspects) {
    const shown: Good | undefined = goodAt(bench, setup, probe, faults)
    if (!shown || !('word' in shown)) continue
    const word = probe.look.words[shown.word]
    found.set(word, [...(found.get(word) ?? []), repair])
  }
  return { setup, probe, words: [...found].map(([word, repairs]) => ({ word, repairs })) }
}
