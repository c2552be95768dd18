import { ASSUMPTIONS, type MeterRange, rangeFor } from '@halfsplit/core'
import {
  type Display,
  displayInformation,
  entropyBits,
  mix,
  type Predictive,
  predictive,
  rankTests,
  type TestClass,
  withMisread,
} from '@halfsplit/inference'
import type { Bench } from './bench.js'
import { minutesFor, type Standpoint } from './effort.js'
import { misreadRange } from './evidence.js'
import { type Setup, setupKey } from './setup.js'
import type { TestProbe } from './probe.js'
import type { Test } from './tests.js'
import type { Standing } from './view.js'

/** A test weighed: what it would tell about the repair, what it costs, and what each suspect would show. */
export interface WeighedTest {
  id: string
  test: Test
  /** [bit] */
  information: number
  /** Minutes with set-up and way. */
  cost: number
  score: number
  /** Outcomes overlap for all suspects still believed: the reading cannot tell. */
  blind: boolean
  /** What each class of suspects predicts, heaviest first. */
  classes: readonly SuspectClass[]
}

export interface SuspectClass {
  /** Repair, or `nothing to repair`. */
  id: string
  probability: number
  predictive: Predictive
}

export const NO_REPAIR = 'nothing to repair'

/** Share of belief whose predictions decide the next test, and the most sized hypotheses looked at for it. */
const HEAVY_SHARE = 0.985
const MOST_HEAVY = 48
/** Sized hypotheses, one or two of each class, by which all tests are sifted before the best are weighed in full. */
const SIFTING = 14
/** A setup that could not give one of so many best tests is not looked at. */
const KEPT_ABOVE = 20
/** Tests kept for weighing in full. */
const SIFTED = 60

export interface NextOptions {
  from: Standpoint
  /** Tests that can't be done here, by id or by point. */
  excluded?: ReadonlySet<string>
  /** Also those that cannot come among the best: a list to choose from. */
  all?: boolean
}

/**
 * Tests by expected information about the repair per minute, set-up changes included; ties go by name. All are sifted by a few
 * suspects; the best are weighed by all that matter, and only those are returned with their full figures, first. Setups too dear to
 * give one of the best are left out.
 */
export function weighTests(bench: Bench, standing: Standing, options: NextOptions): WeighedTest[] {
  const { excluded } = options
  const heavy = heavyCells(standing)
  const tests = bench.tests.filter((test) => !excluded?.has(test.id))
  const sifted = rankTests(weighAll(bench, standing, sample(heavy), tests, options))
  const kept = new Set(sifted.slice(0, SIFTED).map(({ id }) => id))
  for (const { test } of sifted) if (standing.complaint?.shows.some((show) => isLook(test, show))) kept.add(test.id)
  const best = rankTests(
    weighAll(
      bench,
      standing,
      heavy,
      tests.filter(({ id }) => kept.has(id)),
      options,
    ),
  )
  return [...best, ...sifted.filter(({ id }) => !kept.has(id))]
}

function weighAll(
  bench: Bench,
  standing: Standing,
  heavy: readonly HeavyCell[],
  tests: readonly Test[],
  { from, all }: NextOptions,
): Weighed[] {
  const bySetup = new Map<string, Test[]>()
  for (const test of tests) bySetup.set(setupKey(test.setup), [...(bySetup.get(setupKey(test.setup)) ?? []), test])
  const open = entropyOf(heavy)
  const setups = [...bySetup.values()].map((same) => ({
    same,
    most: open / Math.min(...same.map((test) => minutesFor(bench.system, test, from))),
  }))
  setups.sort((p, q) => q.most - p.most || (p.same[0].id < q.same[0].id ? -1 : 1))
  const found: Weighed[] = []
  const scores: number[] = []
  for (const { same, most } of setups) {
    // No test tells more than all that is open: a setup whose soonest test could not come among the best is not worked out.
    if (!all && scores.length >= KEPT_ABOVE && most < scores[KEPT_ABOVE - 1]) continue
    const weighed = weighSetup(bench, standing, heavy, same, from)
    found.push(...weighed)
    scores.push(...weighed.map(({ information, cost }) => information / cost))
    scores.sort((p, q) => q - p)
    scores.length = Math.min(scores.length, KEPT_ABOVE)
  }
  return found
}

type Weighed = Omit<WeighedTest, 'score'>

/** Bits that are open between the classes. */
function entropyOf(heavy: readonly HeavyCell[]): number {
  const classes = new Map<string, number>()
  for (const one of heavy) classes.set(one.class, (classes.get(one.class) ?? 0) + one.probability)
  return entropyBits([...classes.values()])
}

/** The heaviest of each class first, then second ones, until enough; each class keeps its whole probability. */
function sample(heavy: readonly HeavyCell[]): HeavyCell[] {
  const rank = new Map<string, number>()
  const ranked = heavy.map((one) => {
    const place = rank.get(one.class) ?? 0
    rank.set(one.class, place + 1)
    return { one, place }
  })
  ranked.sort((p, q) => p.place - q.place)
  const few = ranked.slice(0, SIFTING).map(({ one }) => one)
  const whole = (name: string, list: readonly HeavyCell[]) =>
    list.reduce((sum, one) => sum + (one.class === name ? one.probability : 0), 0)
  return few.map((one) => ({ ...one, probability: (one.probability * whole(one.class, heavy)) / whole(one.class, few) }))
}

interface HeavyCell {
  cell: number
  class: string
  probability: number
}

/** The sized hypotheses that hold nearly all of the belief, each with the class of its likeliest repair. */
function heavyCells(standing: Standing): HeavyCell[] {
  const rank = new Map(standing.repairs.map(({ repair }, i) => [repair, i]))
  const classes = standing.hypotheses.map(({ faults }) => {
    const repairs = faults.map((fault) => fault.repair).sort((p, q) => (rank.get(p) ?? 0) - (rank.get(q) ?? 0))
    return repairs[0] ?? NO_REPAIR
  })
  const all = standing.sized.map(({ hypothesis }, cell) => ({
    cell,
    class: classes[hypothesis],
    probability: standing.belief.cellProbability[cell],
  }))
  all.sort((p, q) => q.probability - p.probability || p.cell - q.cell)
  const whole = 1 - standing.notDescribed
  let sum = 0
  const heavy: HeavyCell[] = []
  for (const one of all) {
    if (heavy.length >= MOST_HEAVY || sum > HEAVY_SHARE * whole) break
    heavy.push(one)
    sum += one.probability
  }
  return heavy
}

function weighSetup(bench: Bench, standing: Standing, heavy: readonly HeavyCell[], tests: readonly Test[], from: Standpoint) {
  const probes = tests.map((test) => test.probe)
  const seen = heavy.map(({ cell }) => predictCell(standing, cell, tests[0].setup, probes))
  return tests.map((test, t) => {
    const classes = classesOf(
      heavy,
      seen.map((one) => one[t]),
    )
    const information = displayInformation(
      classes.map(({ probability, predictive: p }) => recorded(test.probe, probability, p)),
      displayOf(test.probe, classes),
    )
    const cost = minutesFor(bench.system, test, from)
    return { id: test.id, test, information, cost, blind: information < ASSUMPTIONS.blindBits, classes }
  })
}

/** What one sized hypothesis predicts for probes in a setup, given everything read so far. */
export const predictCell = (standing: Standing, cell: number, setup: Setup, probes: readonly TestProbe[]): Predictive[] =>
  predictive(standing.belief.states[cell], standing.next(cell, setup, probes))

function classesOf(heavy: readonly HeavyCell[], seen: readonly Predictive[]): SuspectClass[] {
  const parts = new Map<string, { weight: number; predictive: Predictive }[]>()
  heavy.forEach((one, i) => {
    const list = parts.get(one.class) ?? []
    list.push({ weight: one.probability, predictive: seen[i] })
    parts.set(one.class, list)
  })
  return [...parts]
    .map(([id, list]) => ({ id, probability: list.reduce((sum, { weight }) => sum + weight, 0), predictive: mix(list) }))
    .sort((p, q) => q.probability - p.probability || (p.id < q.id ? -1 : 1))
}

function recorded(probe: TestProbe, probability: number, p: Predictive): TestClass {
  if (probe.kind === 'look') return { probability, predictive: withMisread(p, ASSUMPTIONS.lookError) }
  return { probability, predictive: withMisread(p, ASSUMPTIONS.misread, misreadRange(probe)) }
}

/** Steps and ends of the display, in the range the likeliest suspect would be read in. */
export function displayOf(probe: TestProbe, classes: readonly SuspectClass[]): Display {
  if (probe.kind === 'look') return { resolution: 0, low: 0, high: 1 }
  const { meter } = probe
  const top = meter.ranges[meter.ranges.length - 1].top
  const zero = meter.zero ?? 0
  const mean = classes[0]?.predictive.normals[0]?.mean ?? zero
  const range: MeterRange = rangeFor(meter, mean) ?? meter.ranges[meter.ranges.length - 1]
  return { resolution: range.resolution, low: zero - top, high: zero + top }
}

/** Whether a test is a look that a complaint speaks of. */
export const isLook = (
  { setup, probe }: { setup: Setup; probe: TestProbe },
  show: { state: string; part: string; look: string },
): boolean =>
  setup.state === show.state &&
  !setup.intervention &&
  probe.kind === 'look' &&
  probe.part.name === show.part &&
  probe.look.name === show.look

/**
 * How well a test tells one suspect from another (from a sound machine, unless named): information at even odds [bit], over the
 * sizes still believed. Under the blind threshold no reading of it speaks for or against the suspect.
 */
export function tellsApart(weighed: WeighedTest, suspect: string, other = NO_REPAIR): number {
  const pair = weighed.classes.filter(({ id }) => id === suspect || id === other)
  if (pair.length < 2) return 0
  return displayInformation(
    pair.map(({ predictive: p }) => recorded(weighed.test.probe, 1, p)),
    displayOf(weighed.test.probe, pair),
  )
}
