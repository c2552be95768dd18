/** The step to take now, with what it costs to the end, a bound on what any plan costs, and how long it may take. */

import { AndOrSearch } from '../search.js'
import type { Course } from './order.js'
import { TroubleProblem } from './problem.js'
import { type Here, ReadyTrouble, startOf } from './ready.js'
import { DEFAULT_ROLLOUT, nameOf, Rollout, type RolloutBudget, type TriedStep } from './rollout.js'
import type { TroubleStep, TroubleTask } from './task.js'

/** What choosing a step may take. */
export interface StepBudget {
  /** Nodes that the exact search may make; where it ends within them the step is the best there is. */
  readonly nodes: number
  readonly rollout: RolloutBudget
}

/** A decision among 40 suspects and 60 tests takes some 20 ms of processor time with it. */
export const DEFAULT_STEP_BUDGET: StepBudget = { nodes: 600, rollout: DEFAULT_ROLLOUT }

export interface TroubleAdvice {
  readonly step: TroubleStep
  /** Expected cost from here to the end of the plan that begins so. */
  readonly expectedCost: number
  /** No plan costs less. */
  readonly lowerBound: number
  /** The expected cost is the least there is. */
  readonly isExact: boolean
  /** Steps tried, by rising cost, the advised one first. A cost that is not exact can be had, and may be beaten. */
  readonly tried: readonly TriedStep[]
}

/** Costs within this share are equal: rounding of the sums. */
const ROUNDING = 1e-9

/** The step to take: by exact search where it ends within the budget, else by rollout; always with a lower bound. */
export function nextTroubleStep(task: TroubleTask, budget = DEFAULT_STEP_BUDGET): TroubleAdvice {
  const ready = new ReadyTrouble(task)
  return adviceAt(ready, new Rollout(ready, budget.rollout), startOf(ready), budget.nodes)
}

/** The same from anywhere in a job. */
export function adviceAt(ready: ReadyTrouble, rollout: Rollout, here: Here, nodes: number): TroubleAdvice {
  const tried = rollout.steps(here)
  const problem = new TroubleProblem(ready, here)
  const search = new AndOrSearch(problem, nodes)
  search.raise(search.root, tried[0].cost * problem.root.weight)
  const lowerBound = Math.min(search.root.lower / problem.root.weight, tried[0].cost)
  const isExact = search.root.isClosed || tried[0].cost <= lowerBound * (1 + ROUNDING)
  const best = search.root.isClosed && search.root.best ? search.root.best.action : tried[0].step
  if (!isExact || nameOf(best) === nameOf(tried[0].step))
    return { step: tried[0].step, expectedCost: isExact ? lowerBound : tried[0].cost, lowerBound, isExact, tried }
  const others = tried.filter(({ step }) => nameOf(step) !== nameOf(best))
  return { step: best, expectedCost: lowerBound, lowerBound, isExact, tried: [{ step: best, cost: lowerBound }, ...others] }
}

/** Time that is not passed with a probability of 90 %, and the mean. */
export interface TimeFigures {
  readonly mean: number
  readonly q90: number
}

/** How a job may go from here, if one begins with a step and goes on with the base plan. */
export interface TroubleCourse {
  /** Time until the repair that cures begins: the search. A wrong end counts with all that follows. */
  readonly toFind: TimeFigures
  /** Time until the end of the last proof look. */
  readonly toEnd: TimeFigures
  /** Probability of ending with the fault still there. */
  readonly wrongEnd: number
}

/** The times of a plan that begins with a step; exact sums over the ways it may go. */
export function troubleCourse(task: TroubleTask, step: TroubleStep, budget = DEFAULT_STEP_BUDGET): TroubleCourse {
  const ready = new ReadyTrouble(task)
  const found = new Times()
  const ended = new Times()
  let wrong = 0
  const course: Course = {
    cured: (begun, proved, weight) => {
      found.add(begun, weight)
      ended.add(proved, weight)
    },
    cameBack: (time, weight) => {
      found.add(time, weight)
      ended.add(time, weight)
      wrong += weight
    },
    sound: (time, weight) => {
      found.add(time, weight)
      ended.add(time, weight)
    },
  }
  new Rollout(ready, budget.rollout).tell(startOf(ready), step, course)
  return { toFind: found.figures(), toEnd: ended.figures(), wrongEnd: wrong / ended.weight }
}

const SHARE = 0.9

/** Steps to a unit of time in which weights are kept: the mean is exact, the quantile good to a step. */
const STEPS = 20

/** Times with their weights. */
class Times {
  weight = 0
  private sum = 0
  private readonly steps = new Map<number, number>()

  add(time: number, weight: number): void {
    this.weight += weight
    this.sum += weight * time
    const step = Math.round(time * STEPS)
    this.steps.set(step, (this.steps.get(step) ?? 0) + weight)
  }

  figures(): TimeFigures {
    let passed = 0
    const sorted = [...this.steps].sort(([a], [b]) => a - b)
    const last = sorted.find(([, weight]) => {
      passed += weight
      return passed >= SHARE * this.weight * (1 - ROUNDING)
    })
    return { mean: this.sum / this.weight, q90: (last?.[0] ?? 0) / STEPS }
  }
}
