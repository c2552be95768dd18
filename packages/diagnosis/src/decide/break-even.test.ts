import * as fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { bench, complaint, reading, seen } from '../testing/relay-lamp.js'
import { weighTests } from '../next.js'
import { breakEven, twoWays } from './break-even.js'
import { decisionTable } from '../table/decision-table.js'
import { repairDecision } from './decision.js'
import { believing, type PlanCosts, planCosts } from './plan-costs.js'

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
  const decided = (log: Parameters<typeof bench.standing>[0], plan?: PlanCosts) => {
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

  test('with the costs of a plan the cheaper way is advised', () => {
    expect(decided([DARK], { repairNow: 90, testOn: 60, breakEven: 0.7 })).toMatchObject({ advice: 'test on', breakEven: 0.7 })
    expect(decided([DARK], { repairNow: 60, testOn: 90, breakEven: 0.01 })).toMatchObject({ advice: 'repair', breakEven: 0.01 })
  })

  test('the break-even of a plan lies where its two ways cross', () => {
    const standing = bench.standing([DARK], complaint)
    const [{ repair, probability }] = standing.repairs
    const table = decisionTable(bench, standing, { from })
    const plan = planCosts(table, repair)
    if (!plan) throw new Error('the plan did not weigh both ways')
    expect(probability).toBeLessThan(plan.breakEven)
    expect(plan.testOn).toBeLessThan(plan.repairNow)
    const at = plan.breakEven / (1 - table.leftOut - table.notDescribed)
    for (const [belief, cheaper] of [
      [at + (1 - at) / 2, true],
      [at / 2, false],
    ] as const) {
      const there = planCosts({ ...table, task: believing(table.task, repair, belief) }, repair)
      expect(there === undefined ? false : there.repairNow <= there.testOn).toBe(cheaper)
    }
  })

  test('belief moved to a repair leaves the odds among the others as they were', () => {
    const { task } = decisionTable(bench, bench.standing([DARK], complaint), { from })
    const [repair] = task.repairs
    const moved = believing(task, repair.id, 0.6)
    const of = ({ suspects }: typeof task, cured: boolean) => suspects.filter(({ needs }) => needs.includes(0) === cured)
    const total = (list: typeof task.suspects) => list.reduce((sum, { weight }) => sum + weight, 0)
    expect(total(of(moved, true))).toBeCloseTo(0.6, 12)
    expect(total(of(moved, false))).toBeCloseTo(0.4, 12)
    const ratios = of(moved, false).map(({ weight }, i) => weight / of(task, false)[i].weight)
    for (const ratio of ratios) expect(ratio).toBeCloseTo(ratios[0], 9)
  })

  test('what has been repaired is not decided on again', () => {
    expect(decided([DARK, DROP, { kind: 'repaired', repairs: ['renew X1.1'] }])?.repair).not.toBe('renew X1.1')
  })
})
