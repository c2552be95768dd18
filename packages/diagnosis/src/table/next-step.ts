import { DEFAULT_STEP_BUDGET, nextTroubleStep, type StepBudget, type TroubleStep, troubleCourse } from '@halfsplit/inference'
import type { Test } from '../tests.js'
import type { DecisionTable } from './decision-table.js'

/** A step of a job. `end`: nothing is wrong, or not worth a repair. */
export type JobStep = { kind: 'test'; test: Test } | { kind: 'repair'; repair: string } | { kind: 'end' }

/** A step with the expected cost, in the shop's money, from here to a proved repair by the plan that begins so. */
export interface PricedStep {
  step: JobStep
  expectedCost: number
}

export interface NextStep extends PricedStep {
  /** No plan with these suspects and tests costs less. */
  lowerBound: number
  /** The expected cost is the least there is; else it lies within its distance from the bound. */
  exact: boolean
  /** Other first steps by rising cost. */
  alternatives: readonly PricedStep[]
}

/**
 * The next step of a job, a test or a repair: that of lowest expected cost to a proved repair (minutes with set-up and way, parts, wrong
 * repairs that stay paid for, new parts that are bad, comebacks). Exact where the search ends within its budget, else by rollout; always
 * with a bound. A pure function of the table; ties go by name.
 */
export function nextStep(table: DecisionTable, budget: StepBudget = DEFAULT_STEP_BUDGET): NextStep {
  const { expectedCost, lowerBound, isExact, tried } = nextTroubleStep(table.task, budget)
  const [best, ...others] = tried.map(({ step, cost }) => ({ step: jobStep(table, step), expectedCost: cost }))
  return { step: best.step, expectedCost, lowerBound, exact: isExact, alternatives: others }
}

/** Minutes: the mean, and what is not passed in 9 of 10 jobs. */
export interface Minutes {
  mean: number
  q90: number
}

/** How long a job may take from here: what a quote and its stop points are made of. */
export interface StopPoints {
  /** Until the repair that cures begins; wrong repairs before it count, and so does a comeback. */
  toFind: Minutes
  /** Until its proof. */
  toEnd: Minutes
  /** Chance of an end with the fault still there. */
  wrongEnd: number
}

/** Minutes of a job that begins with this step and goes on as the bench would; exact sums over what may come out. */
export function stopPoints(table: DecisionTable, step: JobStep, budget: StepBudget = DEFAULT_STEP_BUDGET): StopPoints {
  return troubleCourse(table.task, troubleStep(step), budget)
}

function jobStep({ tests }: DecisionTable, step: TroubleStep): JobStep {
  if (step.kind === 'end') return step
  if (step.kind === 'repair') return { kind: 'repair', repair: step.id }
  const found = tests.find(({ test }) => test.id === step.id)
  if (!found) throw new RangeError(`no test '${step.id}' in the table`)
  return { kind: 'test', test: found.test }
}

function troubleStep(step: JobStep): TroubleStep {
  if (step.kind === 'end') return step
  return step.kind === 'test' ? { kind: 'test', id: step.test.id } : { kind: 'repair', id: step.repair }
}
