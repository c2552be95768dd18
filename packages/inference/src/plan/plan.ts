/**
 * The door to planning: the cheapest plan that can be proved within a budget, or the best one found with a bound on its
 * distance.
 */

import { Greedy, type Priced, rolloutPlan } from './greedy.js'
import type { DecisionProblem } from './problem.js'
import { AndOrSearch, type Vertex } from './search.js'
import { type PlanFigures, planFigures, type PlanTree } from './tree.js'

/** What planning may take, in counts, so that a run repeats exactly. */
export interface PlanBudget {
  /** Nodes that the exact search may make; one takes about 1.5 kB with 60 suspects and 60 tests. */
  readonly nodes: number
  /** Choices that the rollout tries at each node where the exact search did not end; 0 leaves the rollout out. */
  readonly width: number
}

/** Ends exact search in seconds where it can end at all. */
export const DEFAULT_PLAN_BUDGET: PlanBudget = { nodes: 200_000, width: 6 }

/** A plan and how good it is. Costs are in the unit of the task, given that one stands at the root. */
export interface Plan<Action> extends PlanFigures {
  /**
   * `optimal`: proved. `budget`: the search ran out; the cost lies within `gap` of the optimum. `impossible`: no plan
   * reaches the goal.
   */
  readonly status: 'optimal' | 'budget' | 'impossible'
  /** No plan costs less. */
  readonly bound: number
  /** Expected cost less the bound; 0 when optimal. */
  readonly gap: number
  /** Nodes that the exact search made. */
  readonly nodes: number
  readonly tree: PlanTree<Action>
}

/** Costs within this share are equal: rounding of the sums. */
const ROUNDING = 1e-12

/**
 * The cheapest plan, or the cheapest found within the budget, with a lower bound on the cost of any plan.
 * Cost: exponential in the suspects at worst, held by the budget.  Checked in plan.prop.test.ts against brute force.
 */
export function solvePlan<Node, Action>(problem: DecisionProblem<Node, Action>, budget = DEFAULT_PLAN_BUDGET): Plan<Action> {
  const search = new AndOrSearch(problem, budget.nodes)
  search.raise(search.root, Number.POSITIVE_INFINITY)
  const { tree, cost } = bestFound(problem, search, budget)
  const weight = problem.weightOf(problem.root)
  const isProved = search.root.isClosed || cost <= search.root.lower * (1 + ROUNDING)
  const figures = planFigures(tree)
  const bound = isProved ? figures.expectedCost : search.root.lower / weight
  const status = figures.expectedCost === Number.POSITIVE_INFINITY ? 'impossible' : isProved ? 'optimal' : 'budget'
  return { status, ...figures, bound, gap: isProved ? 0 : figures.expectedCost - bound, nodes: search.made, tree }
}

/** The plan of highest score at each node. `metTie`: two choices tied somewhere, and their order decided. */
export function greedyPlan<Node, Action>(
  problem: DecisionProblem<Node, Action>,
): PlanFigures & { readonly tree: PlanTree<Action>; readonly metTie: boolean } {
  const greedy = new Greedy(problem)
  const { tree } = greedy.planFrom(problem.root)
  return { ...planFigures(tree), tree, metTie: greedy.metTie }
}

/** What a plan costs that begins so. */
export interface FirstStep<Action> {
  readonly action: Action
  readonly cost: number
  /** Whether the cost is exact; else no such plan costs less. */
  readonly isExact: boolean
}

/**
 * The expected cost of the best plan for every first step, dominated ones included, in the order of the task.
 * @param within costs are made exact up to the optimum plus this much; 0 for all that are as good as the best
 */
export function firstSteps<Node, Action>(
  problem: DecisionProblem<Node, Action>,
  within = Number.POSITIVE_INFINITY,
  budget = DEFAULT_PLAN_BUDGET,
): FirstStep<Action>[] {
  const search = new AndOrSearch(problem, budget.nodes)
  search.raise(search.root, Number.POSITIVE_INFINITY)
  if (problem.endCostOf(problem.root) !== undefined) return []
  const weight = problem.weightOf(problem.root)
  const threshold = search.root.lower * (1 + ROUNDING) + within * weight
  return problem.choicesOf(problem.root).map((choice) => {
    const { cost, isExact } = search.costIfFirst(choice, threshold)
    return { action: choice.action, cost: cost / weight, isExact }
  })
}

/** The proved plan; where the search did not end, the best of what it has, of rollout and of greedy. */
function bestFound<Node, Action>(
  problem: DecisionProblem<Node, Action>,
  search: AndOrSearch<Node, Action>,
  { width }: PlanBudget,
): Priced<Action> {
  const greedy = new Greedy(problem)
  const found = planOf(search.root, greedy, new Map())
  if (search.root.isClosed || width === 0) return found
  const rollout = rolloutPlan(greedy, problem.root, width)
  return rollout.cost < found.cost ? rollout : found
}

/** The plan that follows the best choices of the search, and greedy where it has not been or greedy is cheaper. */
function planOf<Node, Action>(
  vertex: Vertex<Node, Action>,
  greedy: Greedy<Node, Action>,
  known: Map<Vertex<Node, Action>, Priced<Action>>,
): Priced<Action> {
  const done = known.get(vertex)
  if (done !== undefined) return done
  const plan = cheaper(planBySearch(vertex, greedy, known), vertex.isClosed ? undefined : greedy.planFrom(vertex.node))
  known.set(vertex, plan)
  return plan
}

function planBySearch<Node, Action>(
  { node, best }: Vertex<Node, Action>,
  greedy: Greedy<Node, Action>,
  known: Map<Vertex<Node, Action>, Priced<Action>>,
): Priced<Action> {
  if (best === undefined) return greedy.endAt(node)
  const { action, price, outcomes, children } = best
  const vertices = new Map(children.map((child) => [child.node, child]))
  const branches = outcomes.map((outcome, i) => ({ outcome, next: children[i].node }))
  return greedy.follow(node, { action, price, branches }, (next) =>
    planOf(vertices.get(next) as Vertex<Node, Action>, greedy, known),
  )
}

const cheaper = <Action>(one: Priced<Action>, other: Priced<Action> | undefined): Priced<Action> =>
  other !== undefined && other.cost < one.cost ? other : one
