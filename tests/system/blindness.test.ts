import { type Display, display } from '@halfsplit/core'
import { Bench, type LogItem, predictAll, propose, sizeOf, type Test, tellsApart, weighTests } from '@halfsplit/diagnosis'
import { parseSystem } from '@halfsplit/system'
import { expect, test } from 'vitest'

// A feed with two plugs and a lamp; whichever joint is bad, the lamp is weak. Invented for this test.
const FEED = `
halfsplit: 1
machine: feed with a corroded joint
invented: true
parts:
  BAT: { kind: battery, voltage: 12 V +- 0.2 V }
  F1: { kind: fuse, rating: 10 A }
  S1: { kind: switch }
  H1: { kind: lamp, power: 21 W, voltage: 12 V }
  G1: { kind: ground }
connectors:
  X1: { pins: 1 }
  X2: { pins: 1 }
wires:
  1: { from: BAT.plus, to: F1.a, length: 1 m, size: 2.5 mm2 }
  2: { from: F1.b, to: S1.a, length: 2 m, size: 1.5 mm2 }
  3: { from: S1.b, to: X1.1/a, length: 3 m, size: 1.5 mm2 }
  4: { from: X1.1/b, to: X2.1/a, length: 3 m, size: 1.5 mm2 }
  5: { from: X2.1/b, to: H1.feed, length: 1 m, size: 1.5 mm2 }
  6: { from: H1.ground, to: G1.a, length: 1 m, size: 1.5 mm2 }
joins:
  - [G1.b, BAT.minus]
states:
  parked: { dead: true }
  on: { from: parked, set: { S1: on }, minutes: 0.2 }
complaints:
  weak: { says: "the lamp is weak", shows: [ { in: on, at: H1.light, is: dim } ] }
`
const { system } = parseSystem(FEED, 'feed.yaml')
if (!system) throw new Error('the feed does not parse')
const bench = new Bench(system)
const named = (id: string): Test => {
  const found = bench.tests.find((one) => one.id === id)
  if (!found) throw new Error(`no test '${id}'`)
  return found
}
const UNLOADED = named('on + unplug X2: volts X2.1/a BAT.minus')
const SUPPLY = named('on: volts BAT.plus BAT.minus')
const JOINT = 'X1.1.high_resistance_contact'
const complaint = { shows: system.complaints[0].shows }
const from = { setup: { state: 'on' }, places: [] }

function read(one: Test, value: number): LogItem {
  if (one.probe.kind === 'look') throw new Error('not a meter reading')
  const shown: Display = display(one.probe.meter, value)
  if (shown.over) throw new Error('over-range')
  const outcome = { kind: 'number', value, halfWidth: shown.range.resolution / 2 } as const
  return { kind: 'taken', taken: { setup: one.setup, probe: one.probe, outcome, range: shown.range } }
}

test('before any reading, unloaded volts cannot tell a corroded joint from a sound feed, and a loaded test is proposed', () => {
  const standing = bench.standing([], complaint)
  const weighed = weighTests(bench, standing, { from })
  const unloaded = weighed.find((one) => one.id === UNLOADED.id)
  const loaded = weighed.find((one) => one.id === 'on: volts X1.1/a X1.1/b')
  expect(unloaded && tellsApart(unloaded, 'renew X1.1')).toBeLessThanOrEqual(0.05)
  expect(loaded && tellsApart(loaded, 'renew X1.1')).toBeGreaterThan(0.5)
  const { best, alternatives } = propose(bench, standing, { from })
  for (const one of [best, ...alternatives]) expect(one?.test.setup.intervention).toBeUndefined()
  expect(alternatives.some((one) => one.test.probe.kind === 'volts')).toBe(true)
})

// Trade trap P02, common practice, no source: 12 V through 100 kOhm reads 12 x 10/(10 + 0.1) V on a 10 MOhm meter.
test('100 kOhm in a 12 V feed shows 11.88 V on a 10 MOhm meter', () => {
  const fault = bench.faults.find((one) => one.id === JOINT)
  if (!fault) throw new Error('no such fault')
  const [branch] = predictAll(bench.machine, [{ fault, severity: 100e3, sd: 0 }], UNLOADED.setup, [UNLOADED.probe])
  const [seen] = branch.predictions
  expect(seen.kind === 'number' && seen.mean).toBeCloseTo(11.88, 2)
})

test('after 12.00 V at the supply with the same meter, 11.88 V says tens of kOhm or more', () => {
  const size = sizeOf(bench.standing([read(SUPPLY, 12), read(UNLOADED, 11.88)]), JOINT)
  expect(size?.low).toBeGreaterThan(10e3)
  expect(size?.high).toBeLessThan(1e6)
})

test('after 12.00 V at the supply, 12.00 V says below which size it cannot tell', () => {
  const size = sizeOf(bench.standing([read(SUPPLY, 12), read(UNLOADED, 12)]), JOINT)
  expect(size?.openBelow).toBe(true)
  // Half a step of the display in 12 V over 10 MOhm is 4 kOhm.
  expect(size?.high).toBeGreaterThan(500)
  expect(size?.high).toBeLessThan(20e3)
})

test('in a believed weak-lamp feed, an ohmmeter across the joint is blind below its own leads and limit', () => {
  const weighed = weighTests(bench, bench.standing([], complaint), { from })
  const ohms = weighed.find((one) => one.id === 'parked + unplug X1: ohms X1.1 a b')
  const loaded = weighed.find((one) => one.id === 'on: volts X1.1/a X1.1/b')
  expect(ohms && loaded && tellsApart(ohms, 'renew X1.1') < tellsApart(loaded, 'renew X1.1')).toBe(true)
})
