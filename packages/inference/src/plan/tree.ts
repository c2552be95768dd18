/** A plan as a tree: steps with a branch for each outcome, and ends with the suspects left there. */

/** An end of the plan: what may still be the cause there, and what ending costs (the way to the final state). */
export interface PlanEnd {
  readonly kind: 'end'
  readonly suspects: readonly number[]
  readonly weight: number
  readonly price: number
}

/** A step of the plan. */
export interface PlanStep<Action> {
  readonly kind: 'step'
  readonly action: Action
  readonly weight: number
  /** Cost of the step itself, set-up included. */
  readonly price: number
  readonly branches: readonly { readonly outcome: number; readonly plan: PlanTree<Action> }[]
}

/** A plan from some point on. `weight` is the probability of coming there, in one unit for the whole tree. */
export type PlanTree<Action> = PlanEnd | PlanStep<Action>

/** Costs and numbers of steps of a plan, given that one is at its top. */
export interface PlanFigures {
  readonly expectedCost: number
  readonly worstCost: number
  readonly expectedSteps: number
  readonly mostSteps: number
}

/** Figures of a plan, summed from its ends upwards. Subtrees that stand at several places are computed once. */
export function planFigures<Action>(tree: PlanTree<Action>, known = new Map<PlanTree<Action>, PlanFigures>()): PlanFigures {
  const done = known.get(tree)
  if (done !== undefined) return done
  const figures = tree.kind === 'end' ? endFigures(tree) : stepFigures(tree, known)
  known.set(tree, figures)
  return figures
}

const endFigures = ({ price }: PlanEnd): PlanFigures => ({
  expectedCost: price,
  worstCost: price,
  expectedSteps: 0,
  mostSteps: 0,
})

function stepFigures<Action>({ price, weight, branches }: PlanStep<Action>, known: Map<PlanTree<Action>, PlanFigures>) {
  const below = branches.map(({ plan }) => ({ share: plan.weight / weight, ...planFigures(plan, known) }))
  return {
    expectedCost: price + below.reduce((sum, { share, expectedCost }) => sum + share * expectedCost, 0),
    worstCost: price + Math.max(...below.map(({ worstCost }) => worstCost)),
    expectedSteps: 1 + below.reduce((sum, { share, expectedSteps }) => sum + share * expectedSteps, 0),
    mostSteps: 1 + Math.max(...below.map(({ mostSteps }) => mostSteps)),
  }
}

/** The ends of a plan, from the first branch to the last. */
export function planEnds<Action>(tree: PlanTree<Action>): PlanEnd[] {
  return tree.kind === 'end' ? [tree] : tree.branches.flatMap(({ plan }) => planEnds(plan))
}
