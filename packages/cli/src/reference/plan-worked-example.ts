/** Worked examples of test sequences and of the order of repairs. */

import {
  entropyBits,
  firstSteps,
  greedyPlan,
  isolationProblem,
  type MachineStates,
  orderCost,
  type PlanTree,
  prefixCodeLength,
  repairProblem,
  type RepairStep,
  replacementOrder,
  STILL_THERE,
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

interface ClusterInputs {
  actions: { name: string; probability: number; cost: number; cluster: string | null }[]
  openingCost: Record<string, number>
}

/** States of a machine whose clusters are opened one by one and stay open: named by what is open. */
function openings(cost: Record<string, number>): MachineStates {
  const clusters = Object.keys(cost)
  const sets = Array.from({ length: 2 ** clusters.length }, (_, bits) => clusters.filter((_, i) => bits & (1 << i)))
  const change = (from: string[], to: string[]) => {
    const opened = to.filter((one) => !from.includes(one))
    return from.every((one) => to.includes(one)) ? opened.reduce((sum, one) => sum + cost[one], 0) : null
  }
  return { names: sets.map(String), changeCost: sets.map((from) => sets.map((to) => change(from, to))), start: '' }
}

/** The parts in the order in which a plan without tests replaces them. */
function replaced(tree: PlanTree<RepairStep>): string[] {
  if (tree.kind === 'end' || tree.action.kind === 'test') return []
  const next = tree.branches.find(({ outcome }) => outcome === STILL_THERE)
  return [tree.action.part, ...(next === undefined ? [] : replaced(next.plan))]
}

/** Repairs behind covers: a cover is opened once, before the first repair behind it, which is a change of the machine's state. */
export function clusterExample(example: WorkedExample): Answers {
  const { actions, openingCost } = example.inputs as ClusterInputs
  const machine = openings(openingCost)
  const openFor = (cluster: string | null) =>
    machine.names.filter((name) => cluster === null || name.split(',').includes(cluster))
  const { tree, expectedCost } = solvePlan(
    repairProblem({
      parts: actions.map(({ name, cost, cluster }) => ({
        id: name,
        cost: Object.fromEntries(openFor(cluster).map((state) => [state, cost])),
      })),
      worlds: actions.map(({ probability }, part) => ({ faulty: [part], weight: probability })),
      tests: [],
      machine,
    }),
  )
  const opening = (cluster: string | null) => (cluster === null ? 0 : openingCost[cluster])
  const inTurn = (costOf: (action: ClusterInputs['actions'][number]) => number) => {
    const order = actions.toSorted((a, b) => b.probability * costOf(a) - a.probability * costOf(b))
    const isFirst = (at: number) => order.findIndex(({ cluster }) => cluster === order[at].cluster) === at
    return orderCost(
      order.map(({ name, probability, cost, cluster }, at) => ({
        id: name,
        probability,
        cost: cost + (isFirst(at) ? opening(cluster) : 0),
      })),
    )
  }
  return {
    optimalOrder: replaced(tree),
    expectedCost,
    expectedCostOfPlainPOverC: inTurn(({ cost }) => cost),
    expectedCostOfPOverCWithOpeningAdded: inTurn(({ cost, cluster }) => cost + opening(cluster)),
  }
}
