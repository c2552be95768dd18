import fc from 'fast-check'
import { expect, test } from 'vitest'
import { solvePlan } from '../plan.js'
import { troubleTasks } from '../testing/trouble-tasks.js'
import { planEndings, troublePlanFigures } from './plan-figures.js'
import { DEFAULT_PLAN_TREE, troublePlan } from './plan-tree.js'
import { troubleProblem } from './problem.js'

const runs = { numRuns: 100 }
const SAME = 1e-6
const apart = (one: number, other: number): number => Math.abs(one - other) / (1 + Math.abs(other))

test('a plan worked out to its ends costs the optimum, summed way by way', () => {
  fc.assert(
    fc.property(troubleTasks(), (task) => {
      const plan = troublePlan(task, { ...DEFAULT_PLAN_TREE, nodes: 5000, steps: 1000, least: 0 })
      const { meanCost } = troublePlanFigures(planEndings(plan))
      const optimum = solvePlan(troubleProblem(task)).expectedCost
      expect(apart(meanCost, optimum)).toBeLessThan(SAME)
    }),
    runs,
  )
})

test('a plan cut short costs no less than the bound, and every job ends somewhere', () => {
  fc.assert(
    fc.property(troubleTasks({ suspects: 5 }), fc.integer({ min: 0, max: 6 }), (task, steps) => {
      const plan = troublePlan(task, { ...DEFAULT_PLAN_TREE, nodes: 10, steps, boundNodes: 20 })
      const endings = planEndings(plan)
      const { meanCost, meanTime, worstTime, q90Time } = troublePlanFigures(endings)
      expect(meanCost).toBeGreaterThanOrEqual(plan.lowerBound * (1 - SAME))
      const weight = endings.reduce((sum, one) => sum + one.weight, 0)
      expect(apart(weight, plan.root.weight)).toBeLessThan(SAME)
      expect(q90Time).toBeLessThanOrEqual(worstTime)
      expect(meanTime).toBeLessThanOrEqual(Math.max(...endings.map(({ time }) => time)) + SAME)
    }),
    runs,
  )
})

test('suspects at a place sum to its weight', () => {
  fc.assert(
    fc.property(troubleTasks(), (task) => {
      const places = [troublePlan(task).root]
      for (const place of places) {
        expect(
          apart(
            place.suspects.reduce((sum, one) => sum + one, 0),
            place.weight,
          ),
        ).toBeLessThan(SAME)
        places.push(...place.branches.map(({ node }) => node))
      }
    }),
    runs,
  )
})
