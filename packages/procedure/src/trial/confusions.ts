import {
  type Bench,
  type Complaint,
  minutesFor,
  type Setup,
  setupKey,
  type Standpoint,
  type Standing,
} from '@halfsplit/diagnosis'
import { predictCell, type SuspectClass, type Test, tellsApart } from '@halfsplit/diagnosis'
import { mix } from '@halfsplit/inference'
import type { JobOutcome } from './outcome.js'

/** What went wrong alike in several jobs of the bench: what would have cured, and what was done first instead. */
export interface Confusion {
  /** Repairs that cure, joined where two faults were there. */
  cure: string
  /** The repair made first, or how the job ended without one. */
  instead: string
  isRepair: boolean
  jobs: number
  /** Jobs with this cure. */
  of: number
  /** Faults of these jobs, without their sizes, and the complaints, each with how often. */
  truths: readonly (readonly [string, number])[]
  complaints: readonly (readonly [string, number])[]
  /** Places of the jobs in the trial. */
  indices: readonly number[]
}

/** Jobs of the bench that did not begin with a true repair, alike ones together, commonest first. */
export function confusions(outcomes: readonly JobOutcome[]): Confusion[] {
  const groups = new Map<string, JobOutcome[]>()
  for (const outcome of outcomes) {
    const instead = insteadOf(outcome)
    if (!instead) continue
    const key = `${cureOf(outcome)}\t${instead.what}`
    groups.set(key, [...(groups.get(key) ?? []), outcome])
  }
  return [...groups.values()]
    .map((alike) => confusionOf(alike, outcomes))
    .sort((p, q) => q.jobs - p.jobs || (p.cure + p.instead < q.cure + q.instead ? -1 : 1))
}

const cureOf = ({ cures }: JobOutcome): string => [...cures].sort().join(' and ')

function insteadOf({ ways: { bench } }: JobOutcome): { what: string; isRepair: boolean } | undefined {
  if (!bench) return undefined
  const first = bench.fitted.find(({ did }) => did !== 'replaced what blew')
  if (!first) return { what: bench.end, isRepair: false }
  return first.did === 'cured' ? undefined : { what: first.repair, isRepair: true }
}

function confusionOf(alike: readonly JobOutcome[], all: readonly JobOutcome[]): Confusion {
  const cure = cureOf(alike[0])
  const instead = insteadOf(alike[0])
  return {
    cure,
    instead: instead?.what ?? '',
    isRepair: instead?.isRepair ?? false,
    jobs: alike.length,
    of: all.filter((one) => cureOf(one) === cure).length,
    truths: counted(alike.map(({ truth }) => truth.map((key) => key.split('@')[0]).join(' and '))),
    complaints: counted(alike.map(({ complaint }) => complaint)),
    indices: alike.map(({ index }) => index),
  }
}

function counted(words: readonly string[]): [string, number][] {
  const times = new Map<string, number>()
  for (const word of words) times.set(word, (times.get(word) ?? 0) + 1)
  return [...times].sort(([a, p], [b, q]) => q - p || (a < b ? -1 : 1))
}

/** The test that tells two repairs best apart after a complaint, before anything is read. */
export interface Telling {
  test: Test
  /** At even odds between the two [bit]. */
  bits: number
  /** From the parked machine. */
  minutes: number
}

/** Sizes of a repair's faults that are looked at, heaviest first. */
const MOST_CELLS = 6

/**
 * The test of a bench that best tells whether one repair is needed or the other: where even that is blind, no tool at hand can.
 * @returns undefined where one of the two is no repair of the bench's. Cost: every test under up to twelve sized faults.
 */
export function bestTelling(bench: Bench, complaint: Complaint, one: string, other: string): Telling | undefined {
  const standing = bench.standing([], complaint)
  const classes = [one, other].map((repair) => ({ repair, cells: cellsOf(standing, repair) }))
  if (classes.some(({ cells }) => cells.length === 0)) return undefined
  const [parked] = bench.system.states.keys()
  const from: Standpoint = { setup: { state: parked }, places: [] }
  let best: Telling | undefined
  for (const tests of bySetup(bench.tests).values()) {
    const seen = classes.map(({ repair, cells }) => predictedBy(standing, repair, cells, tests))
    tests.forEach((test, t) => {
      const cost = minutesFor(bench.system, test, from)
      const weighed = { id: test.id, test, information: 0, cost, score: 0, blind: false, classes: seen.map((of) => of[t]) }
      const bits = tellsApart(weighed, one, other)
      if (!best || bits > best.bits) best = { test, bits, minutes: cost }
    })
  }
  return best
}

interface WeighedCell {
  cell: number
  weight: number
}

/** The heaviest sizes of the single faults that a repair cures. */
function cellsOf({ hypotheses, sized, belief }: Standing, repair: string): WeighedCell[] {
  return sized
    .map(({ hypothesis }, cell) => ({ hypothesis, cell, weight: belief.cellProbability[cell] }))
    .filter(({ hypothesis }) => hypotheses[hypothesis].faults.length === 1 && hypotheses[hypothesis].faults[0].repair === repair)
    .sort((p, q) => q.weight - p.weight || p.cell - q.cell)
    .slice(0, MOST_CELLS)
}

/** What each of some tests of one setup shows under a repair's faults. */
function predictedBy(standing: Standing, id: string, cells: readonly WeighedCell[], tests: readonly Test[]): SuspectClass[] {
  const setup: Setup = tests[0].setup
  const seen = cells.map(({ cell }) =>
    predictCell(
      standing,
      cell,
      setup,
      tests.map(({ probe }) => probe),
    ),
  )
  const probability = cells.reduce((sum, { weight }) => sum + weight, 0)
  return tests.map((_, t) => ({
    id,
    probability,
    predictive: mix(cells.map(({ weight }, c) => ({ weight, predictive: seen[c][t] }))),
  }))
}

function bySetup(tests: readonly Test[]): Map<string, Test[]> {
  const groups = new Map<string, Test[]>()
  for (const test of tests) groups.set(setupKey(test.setup), [...(groups.get(setupKey(test.setup)) ?? []), test])
  return groups
}
