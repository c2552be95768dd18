/** Planning cases as their files give them, and a plan replayed fault by fault, apart from the search that made it. */

import { readFileSync } from 'node:fs'
import { join } from 'node:path'
import type { IsolationTask, PlanTree, TestStep } from '@halfsplit/inference'

/** A case of a file: what goes in and what is expected to come out. */
export interface PlanningCase<Input, Expected> {
  id: string
  input: Input
  expected: Expected
}

export function readPlanningCases<Input, Expected>(directory: string, file: string): PlanningCase<Input, Expected>[] {
  return (JSON.parse(readFileSync(join(directory, file), 'utf8')) as { cases: PlanningCase<Input, Expected>[] }).cases
}

/** What plan.json and setup-plan.json have in common; `outcomes[hypothesis][test]`. */
export interface IsolationInput {
  hypotheses: { id: string; prior: number }[]
  tests: { id: string }[]
  outcomes: number[][]
}

/** The suspects and, by test, the outcome under each of them. */
export function suspectsOf({ hypotheses }: IsolationInput): IsolationTask['suspects'] {
  return hypotheses.map(({ id, prior }) => ({ id, weight: prior }))
}

/** Outcomes of one test under each hypothesis. */
export const columnOf = ({ outcomes }: IsolationInput, test: number): number[] => outcomes.map((row) => row[test])

/** A plan as the cases write it: outcome numbers as keys. */
export type CaseTree = { leaf: unknown } | { test: string; go_to?: string; outcome: Record<string, CaseTree> }

/** A plan in the form of the cases. */
export function caseTree(tree: PlanTree<TestStep>): CaseTree {
  if (tree.kind === 'end') return { leaf: tree.suspects }
  const outcome = Object.fromEntries(tree.branches.map(({ outcome, plan }) => [outcome, caseTree(plan)]))
  return { test: tree.action.test, go_to: tree.action.state, outcome }
}

/** What a walk through a plan has seen so far; `price` gets the state and the test, and gives the cost and the state after it. */
export interface Walk {
  cost: number
  tests: number
  state: string
}

/** Prices a step from a state: what it costs, and where the machine is then. */
export type PriceStep = (state: string, test: string, goTo: string | undefined) => { cost: number; state: string }

/**
 * Mean cost and number of tests over all hypotheses, each walked through the tree alone; `end` prices the way to the final
 * state.
 */
export function replay(
  tree: CaseTree,
  input: IsolationInput,
  start: string,
  price: PriceStep,
  end: (state: string) => number = () => 0,
): { cost: number; tests: number } {
  const total = input.hypotheses.reduce((sum, { prior }) => sum + prior, 0)
  const numberOf = new Map(input.tests.map(({ id }, test) => [id, test]))
  const walk = (at: CaseTree, row: number[], seen: Walk): Walk => {
    if ('leaf' in at) return { ...seen, cost: seen.cost + end(seen.state) }
    const { cost, state } = price(seen.state, at.test, at.go_to)
    const outcome = row[numberOf.get(at.test) as number]
    return walk(at.outcome[String(outcome)], row, { cost: seen.cost + cost, tests: seen.tests + 1, state })
  }
  const walks = input.outcomes.map((row) => walk(tree, row, { cost: 0, tests: 0, state: start }))
  const mean = (value: (one: Walk) => number) =>
    walks.reduce((sum, one, i) => sum + input.hypotheses[i].prior * value(one), 0) / total
  return { cost: mean(({ cost }) => cost), tests: mean(({ tests }) => tests) }
}
