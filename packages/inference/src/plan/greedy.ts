/** Plans without proof: the choice that looks best at each node, and the same looked one step further (rollout). */

import type { Choice, DecisionProblem } from './problem.js'
import type { PlanTree } from './tree.js'

/** A plan with its weighted cost. */
export interface Priced<Action> {
  readonly tree: PlanTree<Action>
  readonly cost: number
}

/** Scores within this share of each other are a tie, which the order of the task decides. */
const TIE = 1e-9

/** Greedy plans of one problem, kept by node so that rollouts share them. */
export class Greedy<Node, Action> {
  /** Whether two choices tied anywhere: then another order of the task may give another cost. */
  metTie = false
  private readonly plans = new Map<string, Priced<Action>>()

  constructor(private readonly problem: DecisionProblem<Node, Action>) {}

  /** The plan that takes the highest score at each node. */
  planFrom(node: Node): Priced<Action> {
    const key = this.problem.keyOf(node)
    const known = this.plans.get(key)
    if (known !== undefined) return known
    const [choice] = this.ranked(node)
    const plan = this.follow(node, choice, (next) => this.planFrom(next))
    this.plans.set(key, plan)
    return plan
  }

  /** A plan by a rule for the rest: its first choice, then whatever the rule does. Without a choice it ends here. */
  follow(node: Node, choice: Choice<Node, Action> | undefined, rest: (next: Node) => Priced<Action>): Priced<Action> {
    const weight = this.problem.weightOf(node)
    if (choice === undefined) return this.endAt(node)
    const below = choice.branches.map(({ outcome, next }) => ({ outcome, ...rest(next) }))
    const branches = below.map(({ outcome, tree }) => ({ outcome, plan: tree }))
    return {
      tree: { kind: 'step', action: choice.action, weight, price: choice.price, branches },
      cost: choice.price * weight + below.reduce((sum, { cost }) => sum + cost, 0),
    }
  }

  /** An end; a dead end costs more than anything. */
  endAt(node: Node): Priced<Action> {
    const weight = this.problem.weightOf(node)
    const cost = this.problem.endCostOf(node) ?? Number.POSITIVE_INFINITY
    return { tree: { kind: 'end', suspects: this.problem.suspectsOf(node), weight, price: cost / weight }, cost }
  }

  /** Choices by falling score, ties in the order of the task. */
  ranked(node: Node): Choice<Node, Action>[] {
    if (this.problem.endCostOf(node) !== undefined) return []
    const scored = this.problem.choicesOf(node).map((choice) => ({ choice, score: this.problem.scoreOf(node, choice) }))
    const top = scored.reduce((most, { score }) => Math.max(most, score), 0)
    const isTop = ({ score }: { score: number }) => score >= top * (1 - TIE)
    if (scored.filter(isTop).length > 1) this.metTie = true
    const first = scored.filter(isTop)
    const rest = scored.filter((one) => !isTop(one)).sort((a, b) => b.score - a.score)
    return [...first, ...rest].map(({ choice }) => choice)
  }
}

/**
 * Rollout: at each node the `width` choices of highest score are tried, each followed by the greedy plan, and the cheapest is
 * taken; so it costs at most what greedy does. Source: D. P. Bertsekas, D. A. Castanon, J. Heuristics 5 (1999), and F. Tu, K.
 * R. Pattipati, IEEE Trans. SMC-A 33 (2003) for test sequences; from memory.
 */
export function rolloutPlan<Node, Action>(greedy: Greedy<Node, Action>, node: Node, width: number): Priced<Action> {
  const tried = greedy.ranked(node).slice(0, width)
  const costs = tried.map((choice) => greedy.follow(node, choice, (next) => greedy.planFrom(next)).cost)
  const best = tried[costs.indexOf(Math.min(...costs))]
  return greedy.follow(node, best, (next) => rolloutPlan(greedy, next, width))
}
