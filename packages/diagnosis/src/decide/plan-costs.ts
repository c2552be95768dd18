import type { TroubleTask } from '@halfsplit/inference'
import type { DecisionTable } from '../table/decision-table.js'
import { type NextStep, nextStep } from '../table/next-step.js'

/** What a plan expects both ways to cost from here, in the shop's money. */
export interface PlanCosts {
  repairNow: number
  testOn: number
  /** Belief in the repair at which both cost the same, the odds among all others as they are; told against the whole belief. */
  breakEven: number
}

/** Halvings of the log odds between the ends: to a step of the words odds are told in. */
const HALVINGS = 6
/** Beliefs beyond which the words no longer change. */
const LEAST = 0.02
const MOST = 0.98

/**
 * This repair now against the best test first, by the plans of a table, and the belief at which they cost the same: the table is planned again
 * with more or less weight on the suspects that the repair cures, until the difference turns.
 * @returns undefined where the plan did not weigh both   Cost: 7 plans of the table
 */
export function planCosts(table: DecisionTable, repair: string): PlanCosts | undefined {
  const here = bothWays(nextStep(table), repair)
  if (!here) return undefined
  let [low, high] = [logOdds(LEAST), logOdds(MOST)]
  for (let halving = 0; halving < HALVINGS; halving += 1) {
    const middle = (low + high) / 2
    const both = bothWays(nextStep({ ...table, task: believing(table.task, repair, share(middle)) }), repair)
    // A repair not even tried costs more than those that were.
    if (both && both.repairNow <= both.testOn) high = middle
    else low = middle
  }
  // What is not in the table, lighter suspects and *not in this description*, keeps its share of the belief.
  const held = 1 - table.leftOut - table.notDescribed
  return { ...here, breakEven: held * share((low + high) / 2) }
}

function bothWays(next: NextStep, repair: string): { repairNow: number; testOn: number } | undefined {
  const all = [next, ...next.alternatives]
  const now = all.find(({ step }) => step.kind === 'repair' && step.repair === repair)?.expectedCost
  const tests = all.filter(({ step }) => step.kind === 'test').map(({ expectedCost }) => expectedCost)
  return now === undefined || tests.length === 0 ? undefined : { repairNow: now, testOn: Math.min(...tests) }
}

/** The table with this much belief in the suspects a repair is needed for, the others as they stand to each other. */
export function believing(task: TroubleTask, repair: string, belief: number): TroubleTask {
  const number = task.repairs.findIndex(({ id }) => id === repair)
  const cured = task.suspects.map(({ needs }) => needs.includes(number))
  const sum = (which: boolean) => task.suspects.reduce((total, { weight }, s) => total + (cured[s] === which ? weight : 0), 0)
  const [theirs, others] = [sum(true), sum(false)]
  if (!(theirs > 0 && others > 0)) return task
  const suspects = task.suspects.map((one, s) => ({
    ...one,
    weight: one.weight * (cured[s] ? belief / theirs : (1 - belief) / others),
  }))
  return { ...task, suspects }
}

const logOdds = (p: number): number => Math.log(p / (1 - p))
const share = (odds: number): number => 1 / (1 + Math.exp(-odds))
