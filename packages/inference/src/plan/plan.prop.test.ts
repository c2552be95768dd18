import fc from 'fast-check'
import { expect, test } from 'vitest'
import type { IsolationTask } from './isolation-task.js'
import { isolationProblem } from './isolation.js'
import { firstSteps, greedyPlan, solvePlan } from './plan.js'
import { repairProblem } from './repair.js'
import { bruteIsolation, bruteRepair } from './testing/brute-force.js'
import { isolationTasks, repairTasks } from './testing/tasks.js'
import { planEnds, type PlanTree } from './tree.js'

const runs = { numRuns: 200 }
const larger = isolationTasks({ suspects: 9, tests: 7 })

const solve = (task: IsolationTask) => solvePlan(isolationProblem(task))

/** How far apart two costs are, relative to their size; two that are infinite are equal. */
const apart = (one: number, other: number): number => (one === other ? 0 : Math.abs(one - other) / (1 + Math.abs(other)))

const SAME = 1e-9

test('isolation costs what trying everything finds', () => {
  fc.assert(
    fc.property(isolationTasks(), (task) => {
      const plan = solve(task)
      expect(plan.status).toBe(plan.expectedCost === Number.POSITIVE_INFINITY ? 'impossible' : 'optimal')
      expect(apart(plan.expectedCost, bruteIsolation(task))).toBeLessThan(SAME)
    }),
    runs,
  )
})

test('repair costs what trying everything finds', () => {
  fc.assert(
    fc.property(repairTasks, (task) => {
      const plan = solvePlan(repairProblem(task))
      expect(plan.status).toBe('optimal')
      expect(apart(plan.expectedCost, bruteRepair(task))).toBeLessThan(SAME)
    }),
    runs,
  )
})

test('the bound never passes the optimum, and neither greedy nor a search cut short ever costs less', () => {
  const problems = fc.oneof(larger.map(isolationProblem), repairTasks.map(repairProblem)) as fc.Arbitrary<
    ReturnType<typeof isolationProblem>
  >
  fc.assert(
    fc.property(problems, fc.integer({ min: 1, max: 60 }), fc.constantFrom(0, 3), (problem, nodes, width) => {
      const { expectedCost: optimum } = solvePlan(problem)
      const cut = solvePlan(problem, { nodes, width })
      const rounding = 1e-9 * (1 + optimum)
      expect(problem.endCostOf(problem.root) ?? problem.boundOf(problem.root)).toBeLessThanOrEqual(
        (optimum + rounding) * problem.weightOf(problem.root),
      )
      expect(cut.bound).toBeLessThanOrEqual(optimum + rounding)
      expect(cut.expectedCost).toBeGreaterThanOrEqual(optimum - rounding)
      expect(greedyPlan(problem).expectedCost).toBeGreaterThanOrEqual(cut.expectedCost - rounding)
      expect(apart(cut.gap, cut.expectedCost - cut.bound)).toBeLessThan(SAME)
    }),
    runs,
  )
})

test('a test that tells nothing changes nothing', () => {
  fc.assert(
    fc.property(larger, (task) => {
      const useless = { id: 'useless', cost: 0.1, outcomes: task.suspects.map(() => 3) }
      expect(apart(solve({ ...task, tests: [useless, ...task.tests] }).expectedCost, solve(task).expectedCost)).toBeLessThan(SAME)
    }),
    runs,
  )
})

test('a copy of a test that costs no less changes nothing', () => {
  fc.assert(
    fc.property(larger, (task) => {
      const [first] = task.tests
      const dearer = { ...first, id: 'again', cost: typeof first.cost === 'number' ? first.cost * 2 : first.cost }
      expect(apart(solve({ ...task, tests: [...task.tests, dearer] }).expectedCost, solve(task).expectedCost)).toBeLessThan(SAME)
    }),
    runs,
  )
})

test('the order of suspects and tests does not matter to the cost', () => {
  fc.assert(
    fc.property(larger, fc.integer({ min: 1, max: 8 }), (task, by) => {
      const turn = <T>(list: readonly T[]) => list.map((_, i) => list[(i + by) % list.length])
      const turned = {
        ...task,
        suspects: turn(task.suspects),
        tests: turn(task.tests).map((one) => ({ ...one, outcomes: turn(one.outcomes) })),
      }
      expect(apart(solve(turned).expectedCost, solve(task).expectedCost)).toBeLessThan(SAME)
    }),
    runs,
  )
})

test('every suspect stands at exactly one end; an end holds one repair, or what no test tells apart', () => {
  fc.assert(
    fc.property(larger, (task) => {
      const ends = planEnds(solve(task).tree)
      if (ends.some(({ price }) => price === Number.POSITIVE_INFINITY)) return
      const standing = ends.flatMap(({ suspects }) => suspects)
      expect([...standing].sort((a, b) => a - b)).toEqual(task.suspects.map((_, i) => i))
      for (const { suspects } of ends) {
        const repairs = new Set(suspects.map((i) => task.suspects[i].repair ?? `own ${i}`))
        const rows = new Set(suspects.map((i) => task.tests.map(({ outcomes }) => outcomes[i]).join()))
        expect(Math.min(repairs.size, rows.size)).toBe(1)
      }
    }),
    runs,
  )
})

test('the plan costs what its steps cost, suspect by suspect', () => {
  const costOf = (tree: PlanTree<{ test: string }>, task: IsolationTask, suspect: number): number => {
    if (tree.kind === 'end') return tree.price
    const taken = task.tests.find(({ id }) => id === tree.action.test)?.outcomes[suspect]
    const branch = tree.branches.find(({ outcome }) => outcome === taken)
    return tree.price + costOf(branch?.plan as PlanTree<{ test: string }>, task, suspect)
  }
  fc.assert(
    fc.property(larger, (task) => {
      const { tree, expectedCost, worstCost } = solve(task)
      const costs = task.suspects.map((_, i) => costOf(tree, task, i))
      const total = task.suspects.reduce((sum, { weight }) => sum + weight, 0)
      expect(apart(expectedCost, task.suspects.reduce((sum, { weight }, i) => sum + weight * costs[i], 0) / total)).toBeLessThan(
        SAME,
      )
      expect(apart(worstCost, Math.max(...costs))).toBeLessThan(SAME)
    }),
    runs,
  )
})

test('the best of all first steps costs what the plan costs', () => {
  fc.assert(
    fc.property(fc.oneof(larger.map(isolationProblem), repairTasks.map(repairProblem)), (any) => {
      const problem = any as ReturnType<typeof isolationProblem>
      const steps = firstSteps(problem)
      if (steps.length === 0) return
      expect(steps.every(({ isExact }) => isExact)).toBe(true)
      expect(apart(Math.min(...steps.map(({ cost }) => cost)), solvePlan(problem).expectedCost)).toBeLessThan(SAME)
    }),
    runs,
  )
})
