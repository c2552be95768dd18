import { expect, test } from 'vitest'
import { faultWorlds, orderCost, replacementOrder } from './fault-worlds.js'
import { greedyPlan, solvePlan } from './plan.js'
import { repairProblem } from './repair.js'

const single = (weights: number[]) => weights.map((weight, part) => ({ faulty: [part], weight }))

test('the one suspect is replaced without a test, and ends the job', () => {
  const parts = [{ id: 'valve', cost: 40 }]
  const tests = [{ id: 'ohms', cost: 1, rows: [[0.5, 0.5]] }]
  const plan = solvePlan(repairProblem({ parts, worlds: single([1]), tests }))
  expect(plan).toMatchObject({ status: 'optimal', expectedCost: 40, tree: { action: { kind: 'replace', part: 'valve' } } })
})

test('a cheap unlikely part goes before a dear likely one, as the order of probability per cost says', () => {
  const parts = [
    { id: 'fuse', probability: 0.3, cost: 1 },
    { id: 'module', probability: 0.7, cost: 100 },
  ]
  expect(replacementOrder(parts).map(({ id }) => id)).toEqual(['fuse', 'module'])
  expect(orderCost(replacementOrder(parts))).toBeCloseTo(1 + 0.7 * 100, 12)
  const plan = solvePlan(repairProblem({ parts, worlds: single([0.3, 0.7]), tests: [] }))
  expect(plan.expectedCost).toBeCloseTo(71, 12)
  expect(plan.worstCost).toBe(101)
})

test('a test pays where it costs less than the wrong part, and not where it costs more', () => {
  const parts = [
    { id: 'A', cost: 50 },
    { id: 'B', cost: 50 },
  ]
  const task = (cost: number) => ({
    parts,
    worlds: single([1, 1]),
    tests: [
      {
        id: 'T',
        cost,
        rows: [
          [1, 0],
          [0, 1],
        ],
      },
    ],
  })
  expect(solvePlan(repairProblem(task(10)))).toMatchObject({ expectedCost: 60, tree: { action: { kind: 'test' } } })
  expect(solvePlan(repairProblem(task(30)))).toMatchObject({ expectedCost: 75, tree: { action: { kind: 'replace' } } })
})

test('two faulty parts are both replaced; a sure test may be repeated after the first', () => {
  const parts = [
    { id: 'A', cost: 10 },
    { id: 'B', cost: 10 },
  ]
  const worlds = [
    { faulty: [0], weight: 1 },
    { faulty: [0, 1], weight: 1 },
  ]
  expect(solvePlan(repairProblem({ parts, worlds, tests: [] })).expectedCost).toBeCloseTo(15, 12)
  // Test T shows the worst part that is still faulty: B hides A until B is replaced, then T shows A.
  const three = [
    { id: 'A', cost: 10 },
    { id: 'B', cost: 10 },
    { id: 'C', cost: 100 },
  ]
  const pairs = [
    { faulty: [0, 1], weight: 1 },
    { faulty: [1, 2], weight: 1 },
  ]
  const rows = [
    [1, 0, 0],
    [0, 0, 1],
    [0, 1, 0],
  ]
  const plan = solvePlan(repairProblem({ parts: three, worlds: pairs, tests: [{ id: 'T', cost: 1, rows }] }))
  expect(plan.tree).toMatchObject({
    action: { kind: 'replace', part: 'B' },
    branches: [{ plan: { action: { kind: 'test', test: 'T' } } }],
  })
  expect(plan.expectedCost).toBeCloseTo(10 + 1 + (10 + 100) / 2, 12)
})

test('a replacement waits for the state that it needs, and the machine ends where it must', () => {
  const machine = {
    names: ['running', 'off'],
    changeCost: [
      [0, 2],
      [5, 0],
    ],
    start: 'running',
    final: 'running',
  }
  const parts = [{ id: 'A', cost: { off: 10 } }]
  expect(solvePlan(repairProblem({ parts, worlds: single([1]), tests: [], machine })).expectedCost).toBe(2 + 10 + 5)
})

test('greedy replaces at once what is surely faulty', () => {
  const parts = [
    { id: 'A', cost: 10 },
    { id: 'B', cost: 10 },
  ]
  const worlds = [
    { faulty: [0], weight: 1 },
    { faulty: [0, 1], weight: 3 },
  ]
  expect(greedyPlan(repairProblem({ parts, worlds, tests: [] })).tree).toMatchObject({ action: { part: 'A' } })
})

test('priors of independent parts make singles and pairs', () => {
  const worlds = faultWorlds([0.1, 0.2], 2)
  const total = 0.1 * 0.8 + 0.9 * 0.2 + 0.1 * 0.2
  expect(worlds.map(({ faulty }) => faulty)).toEqual([[0], [1], [0, 1]])
  expect(worlds.map(({ weight }) => weight * total)).toEqual([0.08, 0.18, 0.02].map((one) => expect.closeTo(one, 12)))
})

test('a task that cannot be meant is refused by name', () => {
  const parts = [{ id: 'A', cost: 1 }]
  expect(() => repairProblem({ parts, worlds: [], tests: [] })).toThrow('at least one way to be faulty')
  expect(() => repairProblem({ parts, worlds: [{ faulty: [0], weight: 0 }], tests: [] })).toThrow('the weight of A is 0')
  expect(() => repairProblem({ parts, worlds: [{ faulty: [1], weight: 1 }], tests: [] })).toThrow('there are parts 0 to 0')
  const tests = [{ id: 'T', cost: 1, rows: [[0.5, 0.4]] }]
  expect(() => repairProblem({ parts, worlds: single([1]), tests })).toThrow("test 'T' needs a row")
})
