/** Reference kind `setup-plan`: least expected cost to isolate when tests need a machine state. */

import { greedyPlan, isolationProblem, solvePlan } from '@halfsplit/inference'
import { type CaseTree, caseTree, readPlanningCases } from './plan-cases.js'
import { differences, judge } from './posterior-compare.js'
import type { Runner } from './runner.js'
import { changesOf, costsOfFreePlans, freeTask, type SetupInput, setupTask, walkedCost } from './setup-plan-case.js'

/** On costs, in the cases' unit. */
const TOLERANCE = 1e-9

interface Expected {
  optimal_expected_cost: number
  greedy_expected_cost: number
  greedy_met_a_tie: boolean
  cost_of_plan_made_as_if_changes_were_free: number
  one_optimal_tree: CaseTree
}

function computed(input: SetupInput) {
  const problem = isolationProblem(setupTask(input))
  const { tree, expectedCost, status } = solvePlan(problem)
  const greedy = greedyPlan(problem)
  return {
    status,
    tree,
    switch_cost_shortest: changesOf(input).map((row) => row.map((cost) => (cost === Number.POSITIVE_INFINITY ? null : cost))),
    optimal_expected_cost: expectedCost,
    greedy_expected_cost: greedy.expectedCost,
    greedy_met_a_tie: greedy.metTie,
    cost_if_changes_were_free: solvePlan(isolationProblem(freeTask(input))).expectedCost,
  }
}

/** A value outside a range differs from its nearer end. */
const outside = (value: number, { low, high }: { low: number; high: number }): string[] =>
  differences(Math.min(Math.max(value, low), high), value, TOLERANCE, 'cost_of_plan_made_as_if_changes_were_free')

export const setupPlan: Runner = (directory) =>
  readPlanningCases<SetupInput, Expected>(directory, 'setup-plan.json').map(({ id, input, expected }) =>
    judge(id, () => {
      const { status, tree, ...ours } = computed(input)
      const {
        one_optimal_tree: theirTree,
        greedy_expected_cost,
        cost_of_plan_made_as_if_changes_were_free: free,
        ...rest
      } = expected
      // Where the greedy rule meets a tie, rounding decides and its cost says nothing.
      const greedy = expected.greedy_met_a_tie ? {} : { greedy_expected_cost }
      const walks = { ours: walkedCost(input, caseTree(tree)), theirs: walkedCost(input, theirTree) }
      const cost = expected.optimal_expected_cost
      return [
        ...(status === 'optimal' ? [] : [`the search ended with '${status}'`]),
        ...differences(ours, { ...rest, ...greedy }, TOLERANCE),
        ...outside(free, costsOfFreePlans(input)),
        ...differences(walks, { ours: cost, theirs: cost }, TOLERANCE, 'replayed'),
      ]
    }),
  )
