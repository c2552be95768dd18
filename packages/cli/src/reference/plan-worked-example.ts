/** Worked examples of test sequences and of the order of repairs. */

import {
  entropyBits,
  firstSteps,
  greedyPlan,
  isolationProblem,
  orderCost,
  prefixCodeLength,
  replacementOrder,
  solvePlan,
} from '@halfsplit/inference'
import type { Answers, WorkedExample } from './worked-examples-case.js'

interface SequenceInputs {
  priors: number[]
  matrix: string[]
  testCosts: number[]
}

/** A test sequence: the optimum, by first test, and one step of information gain. */
export function testSequenceExample(example: WorkedExample): Answers {
  const { priors, matrix, testCosts } = example.inputs as SequenceInputs
  const problem = isolationProblem({
    suspects: priors.map((weight, i) => ({ id: String(i), weight })),
    tests: testCosts.map((cost, t) => ({ id: `t${t + 1}`, cost, outcomes: matrix.map((row) => Number(row[t])) })),
  })
  const { tree, expectedCost } = solvePlan(problem)
  const length = prefixCodeLength(priors, 2)
  return {
    optimalExpectedCost: expectedCost,
    firstTestOfAnOptimalTree: tree.kind === 'step' ? tree.action.test : null,
    costWhenFirstTestIs: Object.fromEntries(firstSteps(problem).map(({ action, cost }) => [action.test, cost])),
    huffmanLowerBound: length,
    huffmanLowerBoundTimesCheapestTest: length * Math.min(...testCosts),
    entropyBits: entropyBits(priors),
    costOfOneStepInformationGain: greedyPlan(problem).expectedCost,
  }
}

interface OrderInputs {
  actions: { name: string; probability: number; cost: number }[]
}

/** The order of repairs by probability per cost, its reverse, and two orders by one of them alone. */
export function repairOrderExample(example: WorkedExample): Answers {
  const { actions } = example.inputs as OrderInputs
  const parts = actions.map(({ name: id, probability, cost }) => ({ id, probability, cost }))
  const order = replacementOrder(parts)
  return {
    optimalOrder: order.map(({ id }) => id),
    expectedCost: orderCost(order),
    worstOrderCost: orderCost([...order].reverse()),
    orderByProbabilityCost: orderCost(parts.toSorted((a, b) => b.probability - a.probability)),
    orderByCostCost: orderCost(parts.toSorted((a, b) => a.cost - b.cost)),
  }
}
