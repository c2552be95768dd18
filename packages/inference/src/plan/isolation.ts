/** Telling suspects apart as a decision problem over (set of suspects left, state of the machine). */

import { IsolationBound, type Toolset } from './isolation-bound.js'
import { type IsolationTask, type ReadyIsolation, readyIsolation } from './isolation-task.js'
import { changeByTests, finalChange, priceOf, type Way } from './machine.js'
import type { Choice, DecisionProblem } from './problem.js'
import { isFiner, setKey, splitSet, splits } from './suspect-set.js'

/** A test, and the state in which to do it. */
export interface TestStep {
  readonly test: string
  readonly state: string
}

interface Action extends TestStep {
  readonly number: number
  readonly way: Way
}

/** What is left, where the machine stands, and what could still tell something one step before. */
export interface SuspectNode {
  readonly members: readonly number[]
  readonly weight: number
  readonly state: number
  readonly tools: Toolset
}

/**
 * The problem of isolating to one repair (or to what no test splits), for `solvePlan`, `greedyPlan` and `firstSteps`. Changes
 * of state happen only just before a test or at the end; only tests that split the set are done. The greedy score is
 * information per cost of change and test [bit per unit].
 */
export function isolationProblem(task: IsolationTask): DecisionProblem<SuspectNode, TestStep> {
  return new Isolation(task, readyIsolation(task))
}

class Isolation implements DecisionProblem<SuspectNode, TestStep> {
  readonly root: SuspectNode
  private readonly bound: IsolationBound
  private readonly actions: readonly (readonly Action[])[]
  /** Whether a finer test always serves: not where a coarse one may be a cheap way to another state. */
  private readonly finerServes: boolean

  constructor(
    { tests }: IsolationTask,
    private readonly ready: ReadyIsolation,
  ) {
    const { atoms, machine, possible } = ready
    this.bound = new IsolationBound(ready)
    this.actions = tests.map(({ id }, number) =>
      machine.ways[number].map((way) => ({ test: id, state: machine.names[way.state], number, way })),
    )
    const byTests = changeByTests(machine, 1)
    this.finerServes = machine.change.every((row, from) => row.every((cost, to) => cost <= byTests[from][to]))
    const weight = atoms.reduce((sum, atom) => sum + atom.weight, 0)
    this.root = { members: atoms.map((_, atom) => atom), weight, state: machine.start, tools: this.bound.toolset(possible) }
  }

  keyOf = ({ members, state }: SuspectNode): string => String.fromCharCode(state) + setKey(members)

  weightOf = ({ weight }: SuspectNode): number => weight

  endCostOf = ({ members, weight, state }: SuspectNode): number | undefined =>
    this.isApart(members) ? undefined : weight * finalChange(this.ready.machine, state)

  suspectsOf = ({ members }: SuspectNode): number[] =>
    members.flatMap((member) => this.ready.atoms[member].suspects).sort((a, b) => a - b)

  boundOf = ({ members, weight, state, tools }: SuspectNode): number => this.bound.of(members, weight, state, tools)

  choicesOf = ({ members, state, tools: { tests } }: SuspectNode): Choice<SuspectNode, Action>[] => {
    const useful = tests.filter((test) => splits(members, this.ready.tests[test].outcomes))
    const tools = this.bound.toolset(useful)
    return useful.flatMap((test) => {
      const parts = this.partsOf(members, test)
      return this.actions[test].flatMap((action) => {
        const price = priceOf(this.ready.machine, state, action.way)
        if (price === Number.POSITIVE_INFINITY) return []
        const branches = parts.map(({ outcome, members: part, weight }) => ({
          outcome,
          next: { members: part, weight, state: action.way.leaves, tools },
        }))
        return [{ action, price, branches }]
      })
    })
  }

  undominated = ({ members }: SuspectNode, choices: readonly Choice<SuspectNode, TestStep>[]): Choice<SuspectNode, Action>[] => {
    const kept: Choice<SuspectNode, Action>[] = []
    const byPrice = ([...choices] as Choice<SuspectNode, Action>[]).sort((a, b) => a.price - b.price)
    for (const choice of byPrice) if (!kept.some((other) => this.dominates(members, other, choice))) kept.push(choice)
    return kept
  }

  /** Information [bit] per cost: the entropy of the outcome, which is certain under each suspect. */
  scoreOf = ({ weight }: SuspectNode, { price, branches }: Choice<SuspectNode, TestStep>): number => {
    const bits = branches.reduce((sum, { next }) => sum - (next.weight / weight) * Math.log2(next.weight / weight), 0)
    return bits / price
  }

  private isApart(members: readonly number[]): boolean {
    const { atoms } = this.ready
    const { row, repair } = atoms[members[0]]
    return members.some((member) => atoms[member].row !== row) && members.some((member) => atoms[member].repair !== repair)
  }

  private partsOf(members: readonly number[], test: number): { outcome: number; members: number[]; weight: number }[] {
    const { outcomes, names } = this.ready.tests[test]
    return splitSet(members, outcomes, names.length).map(({ outcome, members: part }) => ({
      outcome: names[outcome],
      members: part,
      weight: part.reduce((sum, member) => sum + this.ready.atoms[member].weight, 0),
    }))
  }

  /** Whether a choice tells no less, and costs no more even with the change to where the other one leaves the machine. */
  private dominates(members: readonly number[], one: Choice<SuspectNode, Action>, other: Choice<SuspectNode, Action>): boolean {
    const { tests, machine } = this.ready
    if (one.price + machine.change[one.action.way.leaves][other.action.way.leaves] > other.price) return false
    const [fine, coarse] = [tests[one.action.number].outcomes, tests[other.action.number].outcomes]
    if (!isFiner(members, fine, coarse)) return false
    return this.finerServes || isFiner(members, coarse, fine)
  }
}
