/** Reference kind `repair`: least expected cost of tests, replacements and checks until the complaint is gone. */

import {
  type FirstStep,
  faultWorlds,
  firstSteps,
  orderCost,
  repairProblem,
  type RepairStep,
  type RepairTask,
  replacementOrder,
  solvePlan,
} from '@halfsplit/inference'
import { readPlanningCases } from './plan-cases.js'
import { differences, judge } from './posterior-compare.js'
import type { Runner } from './runner.js'

/** On costs, in the cases' unit. */
const TOLERANCE = 1e-9

interface RepairInput {
  max_faults: number
  verify_cost: number
  parts: { id: string; prior: number; replace_cost: number }[]
  tests: {
    id: string
    cost: number
    n_outcomes: number
    outcome_if_faulty?: Record<string, number>
    probability_if_faulty?: Record<string, number[]>
  }[]
}

function taskOf({ parts, verify_cost: verify, max_faults: most, tests }: RepairInput): RepairTask {
  const certain = (outcome: number | undefined, outcomes: number) =>
    Array.from({ length: outcomes }, (_, one) => (one === outcome ? 1 : 0))
  return {
    parts: parts.map(({ id, replace_cost: replace }) => ({ id, cost: replace + verify })),
    worlds: faultWorlds(
      parts.map(({ prior }) => prior),
      most,
    ),
    tests: tests.map(({ id, cost, n_outcomes: outcomes, outcome_if_faulty: sure, probability_if_faulty: noisy }) => ({
      id,
      cost,
      rows: parts.map((part) => noisy?.[part.id] ?? certain(sure?.[part.id], outcomes)),
    })),
  }
}

const nameOf = ({ action }: FirstStep<RepairStep>): string =>
  action.kind === 'test' ? `test ${action.test}` : `replace ${action.part}`

/** Orders of replacing one by one, where one part is faulty: by probability per cost, which is the cheapest, and its reverse. */
function orders({ parts, worlds }: RepairTask) {
  if (worlds.some(({ faulty }) => faulty.length > 1)) return {}
  const order = replacementOrder(
    worlds.map(({ faulty: [part], weight }) => ({ id: parts[part].id, probability: weight, cost: parts[part].cost as number })),
  )
  return {
    ratio_order: order.map(({ id }) => id),
    ratio_order_cost: orderCost(order),
    best_of_all_orders_cost: solvePlan(repairProblem({ parts, worlds, tests: [] })).expectedCost,
    worst_of_all_orders_cost: orderCost([...order].reverse()),
  }
}

function computed(input: RepairInput) {
  const task = taskOf(input)
  const problem = repairProblem(task)
  const { expectedCost, status } = solvePlan(problem)
  const first = firstSteps(problem, TOLERANCE).filter(({ cost, isExact }) => isExact && cost <= expectedCost + TOLERANCE)
  return {
    status,
    worlds: task.worlds.map(({ faulty, weight }) => ({ faulty: faulty.map((part) => task.parts[part].id), probability: weight })),
    optimal_expected_cost: expectedCost,
    optimal_first_actions: first.map(nameOf),
    replace_only_expected_cost: solvePlan(repairProblem({ ...task, tests: [] })).expectedCost,
    ...orders(task),
  }
}

export const repair: Runner = (directory) =>
  readPlanningCases<RepairInput, { optimal_first_actions: string[] }>(directory, 'repair.json').map(({ id, input, expected }) =>
    judge(id, () => {
      const { optimal_first_actions: first, ...ours } = computed(input)
      const { optimal_first_actions: theirs, ...rest } = expected
      return [
        ...differences(ours, { status: 'optimal', ...rest }, TOLERANCE),
        ...differences(first.toSorted(), theirs.toSorted(), TOLERANCE, 'optimal_first_actions'),
      ]
    }),
  )
