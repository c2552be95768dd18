import { expect, test } from 'vitest'
import { isolationProblem } from './isolation.js'
import { solvePlan } from './plan.js'

const test4 = (id: string, cost: number, outcomes: number[]) => ({ id, cost, outcomes })

test('a plan is a tree of tests down to single suspects', () => {
  const suspects = ['fuse', 'wire', 'coil'].map((id, i) => ({ id, weight: [2, 1, 1][i] }))
  const tests = [test4('volts at the fuse', 1, [0, 1, 1]), test4('ohms of the coil', 3, [1, 1, 0])]
  const plan = solvePlan(isolationProblem({ suspects, tests }))
  // The fuse is told from the rest for 1; in the other half of the cases the coil test follows for 3.
  expect(plan).toMatchObject({ status: 'optimal', expectedCost: 2.5, worstCost: 4, expectedSteps: 1.5, mostSteps: 2, gap: 0 })
  expect(plan.tree).toMatchObject({
    action: { test: 'volts at the fuse' },
    branches: [
      { outcome: 0, plan: { kind: 'end', suspects: [0], weight: 2 } },
      { outcome: 1, plan: { action: { test: 'ohms of the coil' }, weight: 2 } },
    ],
  })
})

test('suspects of one repair are not told apart, and what no test tells apart stays together', () => {
  const suspects = [
    { id: 'open', weight: 1, repair: 'replace coil' },
    { id: 'shorted', weight: 1, repair: 'replace coil' },
    { id: 'wire', weight: 1 },
    { id: 'pin', weight: 1 },
  ]
  const tests = [test4('ohms', 2, [0, 1, 2, 2]), test4('volts', 1, [0, 0, 1, 1])]
  const { expectedCost, tree } = solvePlan(isolationProblem({ suspects, tests }))
  expect(expectedCost).toBe(1)
  expect(tree).toMatchObject({
    action: { test: 'volts' },
    branches: [{ plan: { suspects: [0, 1] } }, { plan: { suspects: [2, 3] } }],
  })
})

test('a test that only a state out of reach allows tells nothing', () => {
  const machine = {
    names: ['cold', 'hot'],
    changeCost: [
      [0, null],
      [1, 0],
    ],
    start: 'cold',
  }
  const suspects = ['a', 'b'].map((id) => ({ id, weight: 1 }))
  const tests = [{ id: 'hot only', cost: { hot: 1 }, outcomes: [0, 1] }]
  expect(solvePlan(isolationProblem({ suspects, tests, machine })).tree).toMatchObject({ kind: 'end', suspects: [0, 1] })
})

test('a goal that cannot be reached is said to be impossible', () => {
  const machine = {
    names: ['cold', 'hot'],
    changeCost: [
      [0, 1],
      [null, 0],
    ],
    start: 'cold',
    final: 'cold',
  }
  const suspects = ['a', 'b'].map((id) => ({ id, weight: 1 }))
  const tests = [{ id: 'hot only', cost: { hot: 1 }, outcomes: [0, 1] }]
  expect(solvePlan(isolationProblem({ suspects, tests, machine }))).toMatchObject({
    status: 'impossible',
    expectedCost: Number.POSITIVE_INFINITY,
  })
})

test('a budget that is too small is said, with a bound and the gap to it; sets of more than 32 suspects are no trouble', () => {
  const ids = Array.from({ length: 40 }, (_, i) => i)
  const suspects = ids.map((i) => ({ id: `H${i}`, weight: 1 + (i % 7) }))
  const tests = ids.slice(1).map((t) =>
    test4(
      `T${t}`,
      1 + (t % 5),
      ids.map((i) => Number((i * t) % 41 < 20)),
    ),
  )
  const cut = solvePlan(isolationProblem({ suspects, tests }), { nodes: 200, width: 4 })
  expect(cut.status).toBe('budget')
  expect(cut.nodes).toBeLessThan(400)
  expect(cut.bound).toBeGreaterThan(0)
  expect(cut.gap).toBeCloseTo(cut.expectedCost - cut.bound, 9)
  const chain = ids.slice(1).map((t) =>
    test4(
      `T${t}`,
      1,
      ids.map((i) => Number(i < t)),
    ),
  )
  const whole = solvePlan(isolationProblem({ suspects: ids.map((i) => ({ id: `H${i}`, weight: 1 })), tests: chain }))
  // 40 equal suspects by halving: 24 of them after 5 tests, 16 after 6.
  expect(whole).toMatchObject({ status: 'optimal', expectedCost: expect.closeTo((24 * 5 + 16 * 6) / 40, 9), mostSteps: 6 })
})

test('weights of nothing and rows of the wrong length are refused by name', () => {
  const suspects = [{ id: 'a', weight: 0 }]
  expect(() => isolationProblem({ suspects, tests: [] })).toThrow("the weight of suspect 'a' is 0")
  expect(() => isolationProblem({ suspects: [], tests: [] })).toThrow('at least one suspect')
  const tests = [test4('t', 1, [0, 1])]
  expect(() => isolationProblem({ suspects: [{ id: 'a', weight: 1 }], tests })).toThrow("test 't' has 2 outcomes for 1 suspects")
})
