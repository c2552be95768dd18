import fc from 'fast-check'
import { expect, test } from 'vitest'
import { bruteTrouble, troubleTasks } from '../testing/trouble-tasks.js'
import { solvePlan } from '../plan.js'
import { TroubleBound } from './bound.js'
import { capacityBound } from './capacity.js'
import { nextTroubleStep, troubleCourse } from './next-step.js'
import { troubleProblem } from './problem.js'
import { ReadyTrouble } from './ready.js'
import { Rollout } from './rollout.js'

const runs = { numRuns: 150 }
const SAME = 1e-8
const apart = (one: number, other: number): number => Math.abs(one - other) / (1 + Math.abs(other))

test('exact search costs what trying everything finds', () => {
  fc.assert(
    fc.property(troubleTasks(), (task) => {
      const plan = solvePlan(troubleProblem(task))
      expect(plan.status).toBe('optimal')
      expect(apart(plan.expectedCost, bruteTrouble(task))).toBeLessThan(SAME)
    }),
    runs,
  )
})

test('bound <= optimum <= rollout <= base plan', () => {
  fc.assert(
    fc.property(troubleTasks({ suspects: 5 }), (task) => {
      const ready = new ReadyTrouble(task)
      const here = { weights: ready.weights, ...task.start, done: new Uint8Array(ready.tests) }
      const whole = ready.weights.reduce((sum, one) => sum + one, 0)
      const bound = new TroubleBound(ready).of(ready.weights, task.start.state, task.start.place, here.done) / whole
      const optimum = solvePlan(troubleProblem(task)).expectedCost
      const rollout = new Rollout(ready)
      const [first] = rollout.steps(here)
      const base = rollout.baseCost(here)
      expect(bound).toBeLessThanOrEqual(optimum * (1 + SAME))
      expect(first.cost).toBeGreaterThanOrEqual(optimum * (1 - SAME))
      expect(first.cost).toBeLessThanOrEqual(base * (1 + SAME))
    }),
    runs,
  )
})

test('the advised step is exact where the search ends, and never under the bound', () => {
  fc.assert(
    fc.property(troubleTasks(), fc.constantFrom(3, 40, 5000), (task, nodes) => {
      const advice = nextTroubleStep(task, { nodes, rollout: { width: 3, cutoff: 0.01, depth: 4 } })
      const optimum = solvePlan(troubleProblem(task)).expectedCost
      expect(advice.lowerBound).toBeLessThanOrEqual(optimum * (1 + SAME))
      expect(advice.expectedCost).toBeGreaterThanOrEqual(optimum * (1 - SAME))
      expect(advice.isExact ? apart(advice.expectedCost, optimum) : 0).toBeLessThan(SAME)
      expect(advice.isExact || nodes < 5000).toBe(true)
    }),
    runs,
  )
})

test('ways of a course hold all the weight, and the search ends before the proof', () => {
  fc.assert(
    fc.property(troubleTasks({ suspects: 5 }), (task) => {
      const { step } = nextTroubleStep(task)
      const { toFind, toEnd, wrongEnd } = troubleCourse(task, step)
      expect(toFind.mean).toBeLessThanOrEqual(toEnd.mean + SAME)
      expect(toFind.q90).toBeLessThanOrEqual(toEnd.q90 + SAME)
      expect(wrongEnd).toBeGreaterThanOrEqual(0)
      expect(wrongEnd).toBeLessThanOrEqual(1 + SAME)
    }),
    runs,
  )
})

test('no belief makes a test tell more than its capacity', () => {
  const shares = fc.array(fc.double({ min: 0.001, max: 1, noNaN: true }), { minLength: 4, maxLength: 4 })
  fc.assert(
    fc.property(shares, shares, shares, (belief, p, q) => {
      const rows = belief.map((_, s) => [p[s], q[s], 1].map((one) => one / (p[s] + q[s] + 1)))
      const columns = Float64Array.from({ length: 12 }, (_, at) => rows[at % 4][Math.floor(at / 4)])
      const total = belief.reduce((sum, one) => sum + one, 0)
      const mixed = [0, 1, 2].map((o) => rows.reduce((sum, row, s) => sum + (belief[s] / total) * row[o], 0))
      const bits = rows.reduce(
        (sum, row, s) =>
          sum + row.reduce((one, chance, o) => one + (belief[s] / total) * chance * Math.log2(chance / mixed[o]), 0),
        0,
      )
      expect(bits).toBeLessThanOrEqual(capacityBound(columns, 4, 3) + SAME)
    }),
    runs,
  )
})

test('the order of suspects and tests changes neither cost nor step', () => {
  fc.assert(
    fc.property(troubleTasks(), (task) => {
      const turned = {
        ...task,
        tests: [...task.tests].reverse(),
      }
      const [one, other] = [nextTroubleStep(task), nextTroubleStep(turned)]
      expect(apart(one.expectedCost, other.expectedCost)).toBeLessThan(SAME)
    }),
    runs,
  )
})
