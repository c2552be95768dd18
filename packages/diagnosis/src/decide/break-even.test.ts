import * as fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { bench, complaint, reading, seen } from '../testing/relay-lamp.js'
import { weighTests } from '../next.js'
import { breakEven, twoWays } from './break-even.js'
import { repairDecision } from './decision.js'

describe('break-even, by hand', () => {
  // Two suspects, 3 in 4 and 1 in 4; repairs of 100 and 40; a sure test of 20.
  // Repair now: 100 + 1/4 x 40 = 110. Test first: 20 + 3/4 x 100 + 1/4 x 40 = 105. Even at 1 - 20/100 = 4 in 5.
  test('a part of 100 at 3 in 4, a sure test of 20: test on, until 4 in 5', () => {
    const ways = twoWays(0.75, 100, 20, 40)
    expect(ways).toMatchObject({ repairNow: 110, testOn: 105 })
    expect(breakEven(ways)).toBeCloseTo(0.8, 12)
  })

  test('at the break-even both ways cost the same', () => {
    const { repairNow, testOn } = twoWays(0.8, 100, 20, 40)
    expect(repairNow).toBeCloseTo(testOn, 12)
  })

  test('a lamp cheaper than the test is changed at any belief; with no test left, so is anything', () => {
    expect(breakEven(twoWays(0.1, 3, 12))).toBe(0)
    expect(breakEven(twoWays(0.1, 300, Number.POSITIVE_INFINITY))).toBe(0)
  })

  test('the break-even does not move with the belief', () => {
    const cost = fc.double({ min: 0.1, max: 1e4, noNaN: true })
    const share = fc.double({ min: 0, max: 1, noNaN: true })
    fc.assert(
      fc.property(share, share, cost, cost, cost, (p, q, wasted, tests, rest) => {
        expect(breakEven(twoWays(p, wasted, tests, rest))).toBeCloseTo(breakEven(twoWays(q, wasted, tests, rest)), 6)
      }),
    )
  })

  test('a repair that wastes nothing when wrong has no break-even', () => {
    expect(() => breakEven(twoWays(0.5, 0, 1))).toThrow(/wrong repair/)
  })
})

describe('the decision on a machine', () => {
  const from = { setup: { state: 'on' }, places: [] }
  const decided = (log: Parameters<typeof bench.standing>[0], plan?: { repairNow: number; testOn: number }) => {
    const standing = bench.standing(log, complaint)
    return repairDecision(bench, standing, { from, ranked: weighTests(bench, standing, { from }), plan })
  }
  const DARK = seen('on: look E1.light', 'dark')
  const DROP = reading('on: volts X1.1/a X1.1/b', 11.9)

  test('advice goes by which side of the break-even the belief is on', () => {
    for (const log of [[DARK], [DARK, DROP]]) {
      const found = decided(log)
      if (!found) throw new Error('nothing is suspected')
      expect(found.advice).toBe(found.belief >= found.breakEven ? 'repair' : 'test on')
      expect(found.wasted).toBeGreaterThan(found.cost.money)
    }
    expect(decided([DARK, DROP])).toMatchObject({ repair: 'renew X1.1', advice: 'repair' })
  })

  test('with the costs of a plan the cheaper way is advised, and the tests are what makes the difference', () => {
    const cheaper = decided([DARK], { repairNow: 90, testOn: 60 })
    if (!cheaper) throw new Error('nothing is suspected')
    expect(cheaper.advice).toBe('test on')
    expect(cheaper.breakEven).toBeGreaterThan(cheaper.belief)
    expect(decided([DARK], { repairNow: 60, testOn: 90 })?.advice).toBe('repair')
    expect(cheaper.tests).toBeCloseTo(Math.max(0, -30 + (1 - cheaper.belief) * cheaper.wasted), 9)
  })

  test('what has been repaired is not decided on again', () => {
    expect(decided([DARK, DROP, { kind: 'repaired', repairs: ['renew X1.1'] }])?.repair).not.toBe('renew X1.1')
  })
})
