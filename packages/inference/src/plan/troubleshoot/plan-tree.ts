/** A whole plan as a tree of steps: the heaviest branches are worked out first, the rest is repairs in order. */

import { AndOrSearch } from '../search.js'
import { adviceAt, DEFAULT_STEP_BUDGET, type StepBudget } from './next-step.js'
import { RepairOrder } from './order.js'
import { TroubleProblem } from './problem.js'
import { type Here, ReadyTrouble, startOf } from './ready.js'
import { Rollout } from './rollout.js'
import { afterOutcome, afterRepair, sumOf } from './steps.js'
import type { TroubleStep, TroubleTask } from './task.js'

/** A place in the plan. */
export interface PlanPlace {
  /** Probability of coming here, in the unit of the task's weights, and by suspect of the task. */
  readonly weight: number
  readonly suspects: Float64Array
  readonly step: TroubleStep
  /** Time of the step from where one stands here, a repair's proof look not counted; and of that proof. */
  readonly time: number
  readonly proofTime: number
  /**
   * A test has a branch for each outcome that can come out; a repair has one, `outcome` 0, for a proof look that still shows the fault,
   * unless nothing is left then.
   */
  readonly branches: readonly { readonly outcome: number; readonly node: PlanPlace }[]
  /** Not worked out: repairs in order from here on. */
  readonly isRest: boolean
}

export interface TroublePlan {
  readonly task: TroubleTask
  readonly root: PlanPlace
  /** No plan costs less, per unit of weight. */
  readonly lowerBound: number
}

export interface PlanTreeBudget extends StepBudget {
  /** Steps worked out at most, repairs in order not counted. */
  readonly steps: number
  /** Places less likely than this share of the whole are not worked out. */
  readonly least: number
  /** Nodes of the search for the lower bound. */
  readonly boundNodes: number
}

export const DEFAULT_PLAN_TREE: PlanTreeBudget = { ...DEFAULT_STEP_BUDGET, steps: 120, least: 0.002, boundNodes: 3000 }

/** The plan of a task: at each place the advised step. Cost: a decision for each step. */
export function troublePlan(task: TroubleTask, budget: PlanTreeBudget = DEFAULT_PLAN_TREE): TroublePlan {
  const ready = new ReadyTrouble(task)
  const problem = new TroubleProblem(ready)
  const search = new AndOrSearch(problem, budget.boundNodes)
  search.raise(search.root, Number.POSITIVE_INFINITY)
  return { task, root: new Grower(ready, budget).grow(), lowerBound: search.root.lower / problem.root.weight }
}

/** A place while the tree grows. */
interface Draft {
  readonly here: Here
  readonly weight: number
  step: TroubleStep
  isRest: boolean
  branches: { outcome: number; draft: Draft }[]
}

class Grower {
  private readonly rollout: Rollout
  private readonly order: RepairOrder
  private readonly byName: Int32Array

  constructor(
    private readonly ready: ReadyTrouble,
    private readonly budget: PlanTreeBudget,
  ) {
    this.rollout = new Rollout(ready, budget.rollout)
    this.order = new RepairOrder(ready)
    this.byName = new Int32Array(ready.suspects)
    for (const [s, name] of ready.names.entries()) this.byName[name] = s
  }

  grow(): PlanPlace {
    const root = this.draft(startOf(this.ready))
    const open = [root]
    for (let made = 0; made < this.budget.steps && open.length > 0; made++) {
      const at = open.reduce((best, one, i) => (one.weight > open[best].weight ? i : best), 0)
      const [draft] = open.splice(at, 1)
      if (draft.weight < this.budget.least * root.weight) continue
      draft.step = adviceAt(this.ready, this.rollout, draft.here, this.budget.nodes).step
      draft.isRest = false
      draft.branches = this.branchesOf(draft.here, draft.step)
      open.push(...draft.branches.map((branch) => branch.draft))
    }
    return this.finished(root)
  }

  private draft(here: Here): Draft {
    return { here, weight: sumOf(here.weights), step: { kind: 'end' }, isRest: true, branches: [] }
  }

  private branchesOf(here: Here, step: TroubleStep): Draft['branches'] {
    const { ready } = this
    const { tests, repairs, proof } = ready.task
    if (step.kind === 'end') return []
    if (step.kind === 'repair') {
      const weights = new Float64Array(ready.suspects)
      afterRepair(
        ready,
        here.weights,
        repairs.findIndex(({ id }) => id === step.id),
        weights,
      )
      const draft = this.draft({ weights, state: proof.state, place: proof.place, done: here.done })
      return draft.weight > 0 ? [{ outcome: 0, draft }] : []
    }
    const test = tests.findIndex(({ id }) => id === step.id)
    const { state, place, outcomes } = tests[test]
    const done = Uint8Array.from(here.done)
    done[test] = 1
    return Array.from({ length: outcomes }, (_, outcome) => {
      const weights = new Float64Array(ready.suspects)
      afterOutcome(ready, here.weights, test, outcome, weights)
      return { outcome, draft: this.draft({ weights, state, place, done }) }
    }).filter(({ draft }) => draft.weight > 0)
  }

  private finished(draft: Draft): PlanPlace {
    if (draft.isRest) return this.rest(draft.here)
    return this.node(
      draft.here,
      draft.step,
      false,
      draft.branches.map(({ outcome, draft: next }) => ({ outcome, node: this.finished(next) })),
    )
  }

  /** Repairs in order as a chain of nodes. */
  private rest(here: Here): PlanPlace {
    const repairs = this.order.repairsOf(here.weights, here.state, here.place)
    const chain = (at: Here, k: number): PlanPlace => {
      if (k === repairs.length) return this.node(at, { kind: 'end' }, true, [])
      const step = { kind: 'repair', id: this.ready.task.repairs[repairs[k]].id } as const
      const branches = this.branchesOf(at, step).map(({ outcome, draft }) => ({ outcome, node: chain(draft.here, k + 1) }))
      return this.node(at, step, true, branches)
    }
    return chain(here, 0)
  }

  private node(here: Here, step: TroubleStep, isRest: boolean, branches: PlanPlace['branches']): PlanPlace {
    const { ready } = this
    const { tests, repairs } = ready.task
    const number = step.kind === 'end' ? -1 : (step.kind === 'test' ? tests : repairs).findIndex(({ id }) => id === step.id)
    const isRepair = step.kind === 'repair'
    return {
      weight: sumOf(here.weights),
      suspects: Float64Array.from(this.byName, (s) => here.weights[s]),
      step,
      time: isRepair ? ready.repairTime(number, here.place) : number < 0 ? 0 : ready.testTime(number, here.state, here.place),
      proofTime: isRepair ? ready.proofTime(number, here.state, here.place) : 0,
      branches,
      isRest,
    }
  }
}
