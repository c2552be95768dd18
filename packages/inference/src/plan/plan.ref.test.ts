import { readFileSync } from 'node:fs'
import { describe, expect, test } from 'vitest'
import { entropyBits } from '../information.js'
import { isolationProblem } from './isolation.js'
import { firstSteps, greedyPlan, solvePlan } from './plan.js'
import { prefixCodeLength } from './prefix-code.js'

/** Solved examples of the project's reference folder, each with its source in its file. */
function example(name: string) {
  const file = new URL(`../../../../reference/worked-examples/${name}.json`, import.meta.url)
  const { inputs, expected } = JSON.parse(readFileSync(file, 'utf8'))
  const { priors, matrix, testCosts } = inputs as { priors: number[]; matrix: string[]; testCosts: number[] }
  const task = {
    suspects: priors.map((weight, i) => ({ id: `s${i}`, weight })),
    tests: testCosts.map((cost, t) => ({ id: `t${t + 1}`, cost, outcomes: matrix.map((row) => Number(row[t])) })),
  }
  const values = expected as { name: string; value: unknown }[]
  const valueOf = (wanted: string) => values.find((one) => one.name === wanted)?.value as number
  return { priors, testCosts, problem: isolationProblem(task), valueOf }
}

describe('six states and five tests (Pattipati and Alexandridis 1990, from memory; confirmed by recomputation)', () => {
  const { priors, problem, valueOf } = example('test-sequence-6-states-5-tests')

  test('the plan costs 2.18, where one step of information gain costs 2.86', () => {
    expect(solvePlan(problem)).toMatchObject({ status: 'optimal', expectedCost: expect.closeTo(2.18, 9) })
    expect(solvePlan(problem).expectedCost).toBeCloseTo(valueOf('optimalExpectedCost'), 9)
    expect(greedyPlan(problem).expectedCost).toBeCloseTo(2.86, 9)
  })

  test('each first test has its own optimum', () => {
    const costs = Object.fromEntries(firstSteps(problem).map(({ action, cost }) => [action.test, cost]))
    const expected = valueOf('costWhenFirstTestIs') as unknown as Record<string, number>
    for (const [id, cost] of Object.entries(expected)) expect(costs[id]).toBeCloseTo(cost, 9)
    expect(Object.keys(costs)).toEqual(Object.keys(expected))
  })

  test('the lower bound of the prefix code', () => {
    expect(prefixCodeLength(priors, 2)).toBeCloseTo(valueOf('huffmanLowerBound'), 9)
    expect(entropyBits(priors)).toBeCloseTo(valueOf('entropyBits'), 9)
  })
})

test('ten states and twelve tests of unequal cost (constructed for the project)', () => {
  const { priors, testCosts, problem, valueOf } = example('test-sequence-10-states-12-tests')
  expect(solvePlan(problem).expectedCost).toBeCloseTo(valueOf('optimalExpectedCost'), 9)
  expect(greedyPlan(problem).expectedCost).toBeCloseTo(valueOf('costOfOneStepInformationGain'), 9)
  expect(Math.min(...testCosts) * prefixCodeLength(priors, 2)).toBeCloseTo(valueOf('huffmanLowerBoundTimesCheapestTest'), 9)
})
