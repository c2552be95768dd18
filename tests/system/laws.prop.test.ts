import { createRandom, printIssue } from '@halfsplit/core'
import {
  bandsOf,
  Bench,
  type FaultMode,
  logOf,
  type LogItem,
  predictAll,
  PredictionStore,
  Machine,
  type Standing,
  type Test,
  weighTests,
} from '@halfsplit/diagnosis'
import { type Branch, belief, entropyBits, mix, type Prediction, predictive } from '@halfsplit/inference'
import { type Job, JOB_FORMAT } from '@halfsplit/job'
import { lookEntry, readingEntry, VirtualMachine } from '@halfsplit/procedure'
import { labelView } from '@halfsplit/system'
import * as fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { systemOf } from './library.js'

interface Tolerances {
  battery: number
  coil: number
  lamp: number
  contact: number
}

/** A lamp behind a relay, small and with one of most things: a threshold, a plug, joints, a diode. Tolerances in percent. */
const described = ({ battery, coil, lamp, contact }: Tolerances): string => `halfsplit: 1
machine: lamp behind a relay
invented: true
parts:
  BAT: { kind: battery, voltage: 25.2 V +- ${battery} % }
  F1: { kind: fuse, rating: 10 A }
  S1: { kind: switch }
  K1: { kind: relay, coil: 300 Ohm +- ${coil} %, pull_in: <= 16 V, drop_out: ">= 2.4 V", contact: 10 mOhm +- ${contact} % }
  D1: { kind: diode }
  E1: { kind: lamp, power: 70 W +- ${lamp} %, voltage: 26 V }
  G1: { kind: ground }
connectors:
  X1: { pins: 2 }
joins:
  - [BAT.plus, F1.a]
  - [F1.b, S1.a, K1.common]
  - [S1.b, X1.1/a]
  - [X1.1/b, K1.coil_a, D1.cathode]
  - [K1.coil_b, D1.anode, E1.ground, X1.2/b]
  - [K1.work, E1.feed]
  - [X1.2/a, G1.a]
  - [G1.b, BAT.minus]
tools: [multimeter]
states:
  off: { dead: true }
  on: { from: off, set: { S1: on }, minutes: 0.1 }
complaints:
  dark: { says: the lamp stays dark, shows: [{ in: on, at: E1.light, is: dark }] }
`

const USUAL: Tolerances = { battery: 2, coil: 10, lamp: 6, contact: 100 }
const system = systemOf(described(USUAL))
const bench = new Bench(system)
const complaint = { shows: system.complaints[0].shows }
const RUNS = 25
const SEED = 20261125
const run = <T>(property: fc.IProperty<T>, numRuns = RUNS) => {
  console.log(`seed ${SEED}, ${numRuns} runs`)
  fc.assert(property, { seed: SEED, numRuns })
}

/** A machine with a fault, and which tests are taken at it, by their places in the bench's list; a plug re-seated on the way, or not. */
const visits = fc.record({
  seed: fc.nat(1e6),
  fault: fc.nat(bench.faults.length - 1),
  tests: fc.uniqueArray(fc.nat(bench.tests.length - 1), { minLength: 2, maxLength: 5 }),
  reseated: fc.option(fc.nat(4)),
})
type Visit = typeof visits extends fc.Arbitrary<infer T> ? T : never

/** The log of a visit, cut where the plug was re-seated. */
function logsOf({ seed, fault, tests, reseated }: Visit): LogItem[][] {
  const random = createRandom(seed)
  const { part, mode, other, severity } = bench.faults[fault]
  const truth = { part: part.name, mode: mode.id, other, severity: severity?.nodes[random.integer(severity.nodes.length)] }
  const machine = new VirtualMachine(system, [truth], random)
  const items = tests.flatMap((t) => takenAt(machine, bench.tests[t]))
  if (reseated === null || reseated >= items.length) return [items]
  return [items.slice(0, reseated), [{ kind: 'disturbed', parts: ['X1'] }], items.slice(reseated)]
}

/** What was taken, as the bench weighs it: nothing, where the digits never came to rest. */
function takenAt(machine: VirtualMachine, { setup, probe }: Test): LogItem[] {
  const entry =
    probe.kind === 'look'
      ? lookEntry(setup, probe, machine.look(setup, probe.part, probe.look))
      : readingEntry(setup, probe, machine.read(setup, probe))
  const { log, issues } = logOf(bench, { ...EMPTY, entries: [entry] })
  const wrong = issues.filter(({ severity }) => severity === 'error')
  if (wrong.length > 0) throw new Error(wrong.map((one) => printIssue(one)).join())
  return log
}

const EMPTY: Job = {
  format: JOB_FORMAT,
  machine: system.title,
  description: { name: system.name, hash: system.hash },
  complaint: { words: '' },
  entries: [],
}

/** Every belief of a standing by name. */
const figures = ({ repairs, nothingWrong, absentNow, notDescribed }: Standing): Map<string, number> =>
  new Map([
    ...repairs.map(({ repair, probability }) => [repair, probability] as const),
    ['nothing wrong', nothingWrong],
    ['absent now', absentNow],
    ['not described', notDescribed],
  ])

describe('belief', () => {
  test('the order of readings between two actions does not matter, exactly', () => {
    run(
      fc.property(visits, fc.infiniteStream(fc.nat(1000)), (visit, order) => {
        const segments = logsOf(visit)
        const mixed = segments.map((items) =>
          items
            .map((item) => ({ item, at: order.next().value as number }))
            .sort((p, q) => p.at - q.at)
            .map(({ item }) => item),
        )
        const one = bench.standing(segments.flat(), complaint)
        const other = new Bench(system).standing(mixed.flat(), complaint)
        expect(figures(other)).toEqual(figures(one))
      }),
      30,
    )
  })

  test('beliefs sum to one', () => {
    run(
      fc.property(visits, (visit) => {
        const { belief: result, notDescribed } = bench.standing(logsOf(visit).flat(), complaint)
        const sum = result.probability.reduce((all, one) => all + one, 0) + notDescribed
        expect(Math.abs(sum - 1)).toBeLessThan(1e-9)
        expect(Math.min(...result.probability)).toBeGreaterThanOrEqual(0)
      }),
    )
  })

  test('no test has less than no information, or more than there is to learn', () => {
    run(
      fc.property(visits, (visit) => {
        const standing = bench.standing(logsOf(visit).flat(), complaint)
        const weighed = weighTests(bench, standing, { from: { setup: { state: 'off' }, places: [] } })
        for (const { information, classes } of weighed) {
          expect(information).toBeGreaterThanOrEqual(0)
          expect(information).toBeLessThanOrEqual(entropyBits(classes.map(({ probability }) => probability)) + 1e-6)
        }
      }),
      10,
    )
  })
})

describe('limits', () => {
  const percent = fc.double({ min: 1, max: 8, noNaN: true })
  const factor = fc.double({ min: 1, max: 3, noNaN: true })
  const tolerances = fc.record({ battery: percent, coil: percent, lamp: percent, contact: percent })
  const factors = fc.record({ battery: factor, coil: factor, lamp: factor, contact: factor })

  test('a wider tolerance of any part never narrows a displayed limit', () => {
    run(
      fc.property(tolerances, factors, (narrow, by) => {
        const wide = {
          battery: narrow.battery * by.battery,
          coil: narrow.coil * by.coil,
          lamp: narrow.lamp * by.lamp,
          contact: narrow.contact * by.contact,
        }
        const before = limits(narrow)
        const narrower = [...limits(wide)].filter(([id, width]) => width < (before.get(id) ?? 0) * (1 - 1e-6))
        expect(narrower).toEqual([])
      }),
    )
  })

  /** Width of the central 99 % of each display of a healthy machine, by test. */
  function limits(tolerance: Tolerances): Map<string, number> {
    const own = systemOf(described(tolerance))
    const store = new PredictionStore(new Machine(own))
    const [start] = belief([{ hypothesis: 0, weight: 1 }], [1], [], () => []).states
    const found = new Map<string, number>()
    for (const { id, setup, probe } of bench.tests) {
      if (probe.kind === 'look' || setup.intervention) continue
      const [seen] = predictive(start, store.get([], setup, [probe]))
      const [band] = bandsOf(mix([{ weight: 1, predictive: { ...seen, uniforms: [] } }]), 0.99, 1)
      found.set(id, band.high - band.low)
    }
    return found
  }
})

describe('faults', () => {
  const sizedOnes = bench.faults.filter(({ severity }) => severity)

  /** What leaks or bridges is nothing when its resistance has no end, a share of the right power at one; every other size at nought. */
  const nought = ({ mode }: FaultMode): number =>
    mode.bridges || mode.id === 'leaky' ? 1e15 : mode.id === 'wrong_lamp' ? 1 : 1e-12
  /** A look at the damage itself sees that it is there, not how large it is. */
  const seesDamage = ({ part }: FaultMode, probe: Test['probe']) =>
    probe.kind === 'look' && probe.part === part && 'signal' in probe.look.quantity(labelView(part, new Map()))

  test.each(sizedOnes.map((one) => [one.id, one] as const))('%s of no size is a sound machine', (_, fault) => {
    for (const { setup, probe } of bench.tests.filter((one) => !seesDamage(fault, one.probe))) {
      const sound = predictAll(bench.machine, [], setup, [probe])
      const faulty = predictAll(bench.machine, [{ fault, severity: nought(fault), sd: 0 }], setup, [probe])
      expect(faulty.length).toBe(sound.length)
      faulty.forEach((branch, b) => expectSame(branch, sound[b]))
    }
  })

  function expectSame(one: Branch, other: Branch): void {
    const [p, q] = [one, other].map(({ predictions }) => predictions[0])
    expect(gap(p, q)).toBeLessThan(1e-6)
  }

  /** Largest difference of two predictions, in their own sizes. */
  function gap(p: Prediction, q: Prediction): number {
    if (p.kind === 'words' && q.kind === 'words')
      return Math.max(...Array.from(p.probabilities, (share, w) => Math.abs(share - q.probabilities[w])))
    if (p.kind !== 'number' || q.kind !== 'number') return Number.POSITIVE_INFINITY
    const sd = (one: typeof p) => Math.hypot(one.freshSd, ...Array.from(one.sensitivities.value))
    return Math.max(Math.abs(p.mean - q.mean), Math.abs(sd(p) - sd(q))) / (Math.abs(q.mean) + sd(q))
  }
})
