import { createRandom, printIssue, STANDARD_ATMOSPHERE } from '@halfsplit/core'
import { type Leg, march, type MarchOptions } from '@halfsplit/network'
import { describe, expect, it } from 'vitest'
import type { Fault, Scenario, System } from './model.js'
import { parseSystem } from './parse-system.js'
import { Realiser } from './realise.js'
import { type Rest, restsOnTheWay } from './rest.js'
import { type Course, conditionsAt, legsOf, type Presence, spellsOf } from './scenario.js'
import { VESSEL, VESSEL_KINDS } from './testing/vessel.js'
import { readWatched } from './watched.js'

const { system, issues } = parseSystem(VESSEL, 'vessel.yaml', { kinds: VESSEL_KINDS }) as { system: System; issues: [] }
const realiser = new Realiser(system)

function courseOf(name: string, faults: readonly Fault[] = [], spells: readonly Presence[] = []): Course {
  const scenario = system.scenarios.get(name) as Scenario
  const rests = restsOnTheWay(realiser, scenario.from, faults) as Rest[]
  const all = [...faults.map((fault) => ({ fault })), ...spells]
  return { scenario, start: rests[rests.length - 1], faults: all, until: scenario.duration }
}

const element = ({ network }: Leg, id: string) => network.elements.find((one) => one.id === id)

function run(course: Course, options: Partial<MarchOptions> = {}) {
  const { legs, previous } = legsOf(realiser, course)
  return march(legs, { until: course.until, previous, ...options })
}

describe('a scenario of a description', () => {
  it('has its times in seconds, its values in SI, and what is watched by name', () => {
    expect(issues.map((one) => printIssue(one))).toEqual([])
    const { from, duration, drive, watch } = system.scenarios.get('drain') as Scenario
    expect({ from, duration }).toEqual({ from: 'on', duration: 300 })
    expect(drive).toEqual([
      {
        part: 'COOL',
        setting: 'temperature',
        steps: [
          { time: 60, value: 293.15, even: false },
          { time: 240, value: 373.15, even: true },
        ],
      },
    ])
    expect(watch.map((one) => [one.name, one.watch, 'dimension' in one ? one.dimension : one.look.name])).toEqual([
      ['V1.out', 'across', 'absolutePressure'],
      ['into H1.feed', 'into', 'current'],
      ['COOL.liquid', 'across', 'temperature'],
      ['H1.light', 'look', 'light'],
    ])
  })

  it('knows the units in which its description speaks', () => {
    expect(system.units.get('temperature')).toBe('degC')
    const inPsi = VESSEL.replace(/8 bar/g, '116 psi').replace(/3 bar/g, '44 psi')
    expect(parseSystem(inPsi, 'psi.yaml', { kinds: VESSEL_KINDS }).system?.units.get('absolutePressure')).toBe('psi')
  })
})

describe('legs', () => {
  it('begin with the machine as it rests in its state, and step where something steps', () => {
    const { legs } = legsOf(realiser, courseOf('drain'))
    expect(legs.map(({ from }) => Math.round(from * 10) / 10)).toEqual([0, 0, 60, 240])
  })

  it('move a source evenly where a setting changes evenly', () => {
    const { legs } = legsOf(realiser, courseOf('drain'))
    expect(element(legs[1], 'COOL:bath')).toMatchObject({ value: 293.15 })
    expect(element(legs[2], 'COOL:bath')).toMatchObject({ value: 293.15, rate: expect.closeTo(80 / 180, 12) })
    expect(element(legs[3], 'COOL:bath')).toMatchObject({ value: 373.15 })
    expect(element(legs[3], 'COOL:bath')).not.toHaveProperty('rate')
  })

  it('let a store go its own way, and hold it by a source where the scenario drives it', () => {
    const { legs: free } = legsOf(realiser, courseOf('drain'))
    expect(element(free[1], 'V1:volume')).toMatchObject({ type: 'store' })
    const { legs: held } = legsOf(realiser, courseOf('held'))
    const rate = expect.closeTo(-5e5 / 60, 6)
    expect(element(held[0], 'V1:volume')).toMatchObject({ type: 'across', value: 8e5 + STANDARD_ATMOSPHERE })
    expect(element(held[1], 'V1:volume')).toMatchObject({ type: 'across', rate })
  })

  it('are cut into pieces where a coil warms up, each with the coil of its middle', () => {
    const { legs } = legsOf(realiser, courseOf('held'))
    // 10 s to 60 s and 60 s to 70 s, each in 60 pieces, and one leg before, between and after: 0, 0+, 70, 90.
    expect(legs).toHaveLength(124)
    const [first, second] = legs.slice(2, 4).map((leg) => element(leg, 'K1:coil')) as { law: { g: number } }[]
    expect(second.law.g).toBeLessThan(first.law.g)
    // Copper between 20 and 80 degC, 20.417 degC in the middle of the first piece: 1/(90 Ohm (1 + 0.00393 x 0.417)).
    expect(first.law.g).toBeCloseTo(1 / (90 * (1 + 0.00393 * (50 / 120))), 8)
  })

  it('make a vessel empty as its time constant says, and its switch close at the pressure of its label', () => {
    const course = courseOf('drain')
    const { events, samples, status } = run(course, { samples: [0, 100] })
    expect(status).toBe('done')
    const [start, later] = samples.map((seen) => readWatched(system, course.scenario.watch[0], seen, course.start))
    expect(start - STANDARD_ATMOSPHERE).toBeCloseTo(8e5, 2)
    expect((later - STANDARD_ATMOSPHERE) / (8e5 / Math.E)).toBeCloseTo(1, 5)
    const psi = 6894.757293168
    const closes = events.find(({ signal }) => signal === 'P1:tripped')
    expect(closes).toMatchObject({ on: false, cause: 'level', time: expect.closeTo(100 * Math.log(8e5 / (60 * psi)), 3) })
    const [lit] = events.filter(({ signal }) => signal === 'T1:timed')
    expect(lit.time - (closes?.time ?? 0)).toBeCloseTo(10, 6)
    const warm = events.find(({ signal }) => signal === 'B1:tripped')
    // Its disc comes 8 s behind a coolant that warms evenly.
    expect(warm?.time).toBeCloseTo(60 + (70 / 80) * 180 + 8, 2)
  })

  it('carry a fault, and one that comes and goes only in its spells', () => {
    const blocked = { part: 'V1', mode: 'blocked' }
    expect(run(courseOf('drain', [blocked])).events.some(({ signal }) => signal === 'P1:tripped')).toBe(false)
    const course = courseOf('drain', [], [{ fault: blocked, spells: [{ from: 20, to: 120 }] }])
    expect(conditionsAt(course, 60).faults).toEqual([blocked])
    expect(conditionsAt(course, 130).faults).toEqual([])
    const closes = run(course).events.find(({ signal }) => signal === 'P1:tripped')
    expect(closes?.time).toBeCloseTo(100 + 100 * Math.log(8e5 / (60 * 6894.757293168)), 3)
  })

  it('leave open what opened on the way into the state', () => {
    const { start } = courseOf('drain', [{ part: 'K1', mode: 'coil_open' }])
    expect(start.faults).toEqual([{ part: 'K1', mode: 'coil_open' }])
    const text = VESSEL.replace('rating: 5 A', 'rating: 1 mA')
    const small = parseSystem(text, 'small.yaml', { kinds: VESSEL_KINDS }).system as System
    const rests = restsOnTheWay(new Realiser(small), 'on') as Rest[]
    expect(rests.map(({ faults }) => faults)).toEqual([[], [{ part: 'F1', mode: 'open_by_overload' }]])
  })
})

describe('spells of an intermittent fault', () => {
  const spells = spellsOf(createRandom(1), 1e6)

  it('come one after the other, absent at first, and the same for the same seed', () => {
    expect(spells[0].from).toBeGreaterThan(0)
    expect(spells.every(({ from, to }, i) => to > from && (i === 0 || from > spells[i - 1].to))).toBe(true)
    expect(spellsOf(createRandom(1), 1e6)).toEqual(spells)
    expect(spellsOf(createRandom(2), 1e6)).not.toEqual(spells)
  })

  it('take the share of the time and the length that are assumed', () => {
    const there = spells.reduce((sum, { from, to }) => sum + to - from, 0)
    // 15,000 spells: the mean of an exponential is known to 0.8 % (1 sd).
    expect(Math.abs(there / spells.length / 20 - 1)).toBeLessThan(0.03)
    expect(Math.abs(there / 1e6 / 0.3 - 1)).toBeLessThan(0.03)
  })
})
