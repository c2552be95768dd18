/** A decision problem as an AND/OR graph without cycles: the one shape on which search, greedy rule and rollout work. */

/**
 * What can be done at a node and where it leads. Costs are *weighted*: multiplied by the probability (in any one unit) of
 * coming to the node, so that the cost of a plan is a plain sum over its steps, and nothing is ever divided by a vanishing
 * probability.
 */
export interface DecisionProblem<Node, Action> {
  readonly root: Node
  /** Equal for nodes with the same future, different otherwise. */
  readonly keyOf: (node: Node) => string
  /** Probability of the node, in the unit of the root's. */
  readonly weightOf: (node: Node) => number
  /** Weighted cost of ending here, or undefined where the plan must go on. */
  readonly endCostOf: (node: Node) => number | undefined
  /** The suspects still possible at a node. */
  readonly suspectsOf: (node: Node) => readonly number[]
  /** All that can be done to learn more or to mend, in the order of the task; none at a node that must go on is a dead end. */
  readonly choicesOf: (node: Node) => Choice<Node, Action>[]
  /** The choices without those that another one is sure to equal or beat. */
  readonly undominated: (node: Node, choices: readonly Choice<Node, Action>[]) => readonly Choice<Node, Action>[]
  /** A weighted cost from here on that no plan can beat. */
  readonly boundOf: (node: Node) => number
  /** How good a choice looks at first sight: the greedy rule takes the highest. */
  readonly scoreOf: (node: Node, choice: Choice<Node, Action>) => number
}

/** Something that can be done at a node. */
export interface Choice<Node, Action> {
  readonly action: Action
  /** Cost of doing it once, set-up included; not weighted. */
  readonly price: number
  readonly branches: readonly Branch<Node>[]
}

/** What may come out of a choice, and the node it leads to. */
export interface Branch<Node> {
  readonly outcome: number
  readonly next: Node
}
