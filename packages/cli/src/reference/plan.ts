/** Reference kind `plan`: least expected cost to isolate, the greedy rule, and lower bounds. */

import {
  firstSteps,
  greedyPlan,
  isolationProblem,
  leastCostOfTests,
  planEnds,
  type PlanTree,
  prefixCodeLength,
  solvePlan,
  type TestStep,
} from '@halfsplit/inference'
import { type CaseTree, caseTree, columnOf, type IsolationInput, readPlanningCases, replay, suspectsOf } from './plan-cases.js'
import { differences, judge } from './posterior-compare.js'
import type { Runner } from './runner.js'

/** On costs, in the cases' unit. */
const TOLERANCE = 1e-9

interface PlanInput extends IsolationInput {
  tests: { id: string; cost: number }[]
}

interface Expected {
  ambiguity_groups: string[][]
  optimal_expected_cost: number
  optimal_expected_number_of_tests: number
  greedy_expected_cost: number
  greedy_first_test: string
  greedy_met_a_tie: boolean
  one_optimal_tree: CaseTree
}

const taskOf = (input: PlanInput) => ({
  suspects: suspectsOf(input),
  tests: input.tests.map(({ id, cost }, test) => ({ id, cost, outcomes: columnOf(input, test) })),
})

/** Hypotheses left together at each end, named, in the order of the list. */
function groupsOf(tree: PlanTree<TestStep>, { hypotheses }: PlanInput): string[][] {
  const ends = planEnds(tree).map(({ suspects }) => [...suspects])
  return ends.sort((a, b) => a[0] - b[0]).map((end) => end.map((one) => hypotheses[one].id))
}

/** The two bounds of the cases: the prefix code over the groups paid with the cheapest test, and with the sum of the cheapest. */
function boundsOf(input: PlanInput, tree: PlanTree<TestStep>) {
  const total = input.hypotheses.reduce((sum, { prior }) => sum + prior, 0)
  const arity = Math.max(2, ...input.tests.map((_, test) => new Set(columnOf(input, test)).size))
  const length = prefixCodeLength(
    planEnds(tree).map(({ weight }) => weight / total),
    arity,
  )
  const costs = input.tests.map(({ cost }) => cost).sort((a, b) => a - b)
  const running = costs.reduce((sums, cost) => [...sums, sums[sums.length - 1] + cost], [0])
  return {
    huffman_arity: arity,
    huffman_expected_length: length,
    bound_cheapest_times_huffman: costs[0] * length,
    bound_sorted_costs_huffman: leastCostOfTests(running, length),
  }
}

function computed(input: PlanInput) {
  const problem = isolationProblem(taskOf(input))
  const { tree, expectedCost, status } = solvePlan(problem)
  const greedy = greedyPlan(problem)
  const first = firstSteps(problem, TOLERANCE).filter(({ cost, isExact }) => isExact && cost <= expectedCost + TOLERANCE)
  return {
    tree,
    status,
    ambiguity_groups: groupsOf(tree, input),
    optimal_expected_cost: expectedCost,
    optimal_first_tests: first.map(({ action }) => action.test),
    greedy_expected_cost: greedy.expectedCost,
    greedy_first_test: greedy.tree.kind === 'step' ? greedy.tree.action.test : null,
    greedy_met_a_tie: greedy.metTie,
    ...boundsOf(input, tree),
  }
}

/**
 * Both trees walked through by every hypothesis: ours must cost the optimum, and the case's one too, with the number of tests
 * it says.
 */
function replayed(input: PlanInput, tree: CaseTree) {
  const costs = new Map(input.tests.map(({ id, cost }) => [id, cost]))
  return replay(tree, input, '', (state, test) => ({ cost: costs.get(test) as number, state }))
}

export const plan: Runner = (directory) =>
  readPlanningCases<PlanInput, Expected>(directory, 'plan.json').map(({ id, input, expected }) =>
    judge(id, () => {
      const { tree, status, ...ours } = computed(input)
      const {
        one_optimal_tree: theirTree,
        optimal_expected_number_of_tests: tests,
        greedy_expected_cost,
        greedy_first_test,
        ...rest
      } = expected
      // Where the greedy rule meets a tie, rounding decides and its cost says nothing.
      const greedy = expected.greedy_met_a_tie ? {} : { greedy_expected_cost, greedy_first_test }
      const walks = { ours: replayed(input, caseTree(tree)).cost, theirs: replayed(input, theirTree) }
      const cost = expected.optimal_expected_cost
      return [
        ...(status === 'optimal' ? [] : [`the search ended with '${status}'`]),
        ...differences(ours, { ...rest, ...greedy }, TOLERANCE),
        ...differences(walks, { ours: cost, theirs: { cost, tests } }, TOLERANCE, 'replayed'),
      ]
    }),
  )
