/** Cases of setup-plan.json as planning tasks, and what their steps and plans cost apart from the search. */

import { firstSteps, type IsolationTask, isolationProblem, type MachineStates, shortest } from '@halfsplit/inference'
import { type CaseTree, columnOf, type IsolationInput, type PriceStep, replay, suspectsOf } from './plan-cases.js'

export interface SetupInput extends IsolationInput {
  states: string[]
  start_state: string
  final_state: string | null
  switch_cost: (number | null)[][]
  tests: { id: string; cost_in_state: Record<string, number>; leaves_state: string | null }[]
}

export function setupTask(input: SetupInput, changeCost: MachineStates['changeCost'] = input.switch_cost): IsolationTask {
  return {
    suspects: suspectsOf(input),
    tests: input.tests.map(({ id, cost_in_state: cost, leaves_state: leaves }, test) => ({
      id,
      cost,
      leavesState: leaves ?? undefined,
      outcomes: columnOf(input, test),
    })),
    machine: { names: input.states, changeCost, start: input.start_state, final: input.final_state ?? undefined },
  }
}

/** The same without any cost of changes. */
export const freeTask = (input: SetupInput): IsolationTask =>
  setupTask(
    input,
    input.states.map(() => input.states.map(() => 0)),
  )

/** Cheapest changes between all states; Infinity where there is no way. */
export const changesOf = ({ switch_cost: direct }: SetupInput): number[][] =>
  shortest(direct.map((row) => row.map((cost) => cost ?? Number.POSITIVE_INFINITY)))

/** The ways to do a test from a state: cost with the change, and the state after it. */
function waysFrom(input: SetupInput, state: string, id: string): { goTo: string; cost: number; state: string }[] {
  const { cost_in_state: costs, leaves_state: leaves } = input.tests.find((test) => test.id === id) as SetupInput['tests'][number]
  const change = changesOf(input)[input.states.indexOf(state)]
  return Object.entries(costs).map(([goTo, cost]) => ({
    goTo,
    cost: change[input.states.indexOf(goTo)] + cost,
    state: leaves ?? goTo,
  }))
}

const finalCost = (input: SetupInput, state: string): number =>
  input.final_state === null ? 0 : changesOf(input)[input.states.indexOf(state)][input.states.indexOf(input.final_state)]

/** What a tree costs, each hypothesis walked through it alone. */
export function walkedCost(input: SetupInput, tree: CaseTree): number {
  const price: PriceStep = (state, id, goTo) =>
    waysFrom(input, state, id).find((way) => way.goTo === goTo) ?? { cost: Number.NaN, state }
  return replay(tree, input, input.start_state, price, (state) => finalCost(input, state)).cost
}

/** Costs closer than this are equal. */
const TIE = 1e-9

/**
 * The least and the most that a plan made as if changes were free costs in truth: over all plans that are optimal then, each test done
 * in the state that is cheapest from where one is. They differ only where such plans tie, for the case names one plan without saying which.
 */
export function costsOfFreePlans(input: SetupInput, state = input.start_state): { low: number; high: number } {
  const total = weightOf(input)
  const tests = bestFreeTests(input)
  if (tests.length === 0) return { low: finalCost(input, state), high: finalCost(input, state) }
  const costs = tests.flatMap((id) => {
    const ways = waysFrom(input, state, id)
    const least = Math.min(...ways.map(({ cost }) => cost))
    return ways
      .filter(({ cost }) => cost <= least + TIE)
      .map((way) => {
        const below = partsOf(input, id).map((part) => ({ share: weightOf(part) / total, ...costsOfFreePlans(part, way.state) }))
        return {
          low: below.reduce((sum, { share, low }) => sum + share * low, way.cost),
          high: below.reduce((sum, { share, high }) => sum + share * high, way.cost),
        }
      })
  })
  return { low: Math.min(...costs.map(({ low }) => low)), high: Math.max(...costs.map(({ high }) => high)) }
}

/** The tests with which an optimal plan may begin, were changes free. */
function bestFreeTests(input: SetupInput): string[] {
  const steps = firstSteps(isolationProblem(freeTask(input)), TIE)
  const least = Math.min(...steps.map(({ cost }) => cost))
  return [...new Set(steps.filter(({ cost }) => cost <= least + TIE).map(({ action }) => action.test))]
}

/** The case with the hypotheses of each outcome alone. */
function partsOf(input: SetupInput, id: string): SetupInput[] {
  const column = columnOf(
    input,
    input.tests.findIndex((test) => test.id === id),
  )
  const isIn = (outcome: number) => (_: unknown, i: number) => column[i] === outcome
  return [...new Set(column)].map((outcome) => ({
    ...input,
    hypotheses: input.hypotheses.filter(isIn(outcome)),
    outcomes: input.outcomes.filter(isIn(outcome)),
  }))
}

const weightOf = ({ hypotheses }: SetupInput): number => hypotheses.reduce((sum, { prior }) => sum + prior, 0)
