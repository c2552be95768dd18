/** Troubleshooting as a decision problem, for the exact search: a node is what is believed, where one stands and what was done. */

import { TroubleBound } from './bound.js'
import { GreedyTrouble } from './greedy.js'
import type { Branch, Choice, DecisionProblem } from '../problem.js'
import { type Here, ReadyTrouble, startOf } from './ready.js'
import { afterOutcome, afterRepair, endCost, sumOf } from './steps.js'
import type { TroubleStep, TroubleTask } from './task.js'

/** Outcomes of a repair's proof look that are followed: the fault is still there. A good look ends the job. */
export const NOT_CURED = 0

export interface TroubleNode {
  readonly weights: Float64Array
  readonly weight: number
  readonly state: number
  readonly place: number
  /** By test: done or not. */
  readonly done: Uint8Array
  /** All that was done, in an order that does not depend on how one came here. */
  readonly key: string
  readonly isEnded: boolean
}

/** The problem of a task, for `solvePlan` and `firstSteps`; the greedy score is that of the base plan. */
export const troubleProblem = (task: TroubleTask): TroubleProblem => new TroubleProblem(new ReadyTrouble(task))

/** The problem of a table made ready. */
export class TroubleProblem implements DecisionProblem<TroubleNode, TroubleStep> {
  readonly root: TroubleNode
  private readonly bound: TroubleBound
  private readonly greedy: GreedyTrouble
  /** With suspects of several repairs an outcome before a repair says something else than one after it. */
  private readonly orderMatters: boolean

  /** @param here where one stands; the start of the task unless given */
  constructor(
    private readonly ready: ReadyTrouble,
    here: Here = startOf(ready),
  ) {
    const { task } = ready
    this.bound = new TroubleBound(ready)
    this.greedy = new GreedyTrouble(ready, { tried: 6, cutoff: 0, depth: 1 })
    this.orderMatters = task.suspects.some(({ needs }) => needs.length > 1)
    this.root = this.node(Float64Array.from(here.weights), here, Uint8Array.from(here.done), '')
  }

  keyOf = ({ key, state, place, isEnded }: TroubleNode): string => `${isEnded ? '!' : ''}${state},${place} ${key}`

  weightOf = ({ weight }: TroubleNode): number => weight

  endCostOf = ({ weights, isEnded }: TroubleNode): number | undefined => (isEnded ? endCost(this.ready, weights) : undefined)

  suspectsOf = ({ weights }: TroubleNode): number[] => this.ready.names.filter((_, s) => weights[s] > 0).sort((a, b) => a - b)

  choicesOf = (node: TroubleNode): Choice<TroubleNode, TroubleStep>[] => [
    ...this.ready.task.tests.flatMap((_, test) => this.testOf(node, test)),
    ...this.ready.task.repairs.flatMap((_, repair) => this.repairOf(node, repair)),
    { action: { kind: 'end' }, price: 0, branches: [{ outcome: 0, next: { ...node, isEnded: true } }] },
  ]

  undominated = (
    _: TroubleNode,
    choices: readonly Choice<TroubleNode, TroubleStep>[],
  ): readonly Choice<TroubleNode, TroubleStep>[] => choices

  boundOf = ({ weights, state, place, done }: TroubleNode): number => this.bound.of(weights, state, place, done)

  /** Cheapest first: a step followed by repairs in order. */
  scoreOf = ({ weights, weight, state, place }: TroubleNode, { action, price, branches }: Choice<TroubleNode, TroubleStep>) => {
    if (action.kind === 'end') return weight / endCost(this.ready, weights)
    const rest = branches.reduce((sum, { next }) => sum + this.greedy.order.costOf(next.weights, next.state, next.place), 0)
    const inOrder = action.kind === 'repair' ? this.greedy.order.costOf(weights, state, place) : Number.POSITIVE_INFINITY
    return weight / Math.max(Math.min(price * weight + rest, inOrder), Number.MIN_VALUE)
  }

  private testOf(node: TroubleNode, test: number): Choice<TroubleNode, TroubleStep>[] {
    const { ready } = this
    if (node.done[test] || !this.tells(node, test)) return []
    const { id, state, place } = ready.task.tests[test]
    const done = Uint8Array.from(node.done)
    done[test] = 1
    const branches: Branch<TroubleNode>[] = []
    for (let outcome = 0; outcome < ready.outcomes[test]; outcome++) {
      const weights = new Float64Array(ready.suspects)
      if (!(afterOutcome(ready, node.weights, test, outcome, weights) > 0)) continue
      branches.push({ outcome, next: this.node(weights, { state, place }, done, this.keyWith(node.key, `${test}:${outcome}`)) })
    }
    return [{ action: { kind: 'test', id }, price: ready.testCost(test, node.state, node.place), branches }]
  }

  private repairOf(node: TroubleNode, repair: number): Choice<TroubleNode, TroubleStep>[] {
    const { ready } = this
    const { id } = ready.task.repairs[repair]
    if (!node.weights.some((weight, s) => weight > 0 && ready.fate[repair * ready.suspects + s] !== s)) return []
    const weights = new Float64Array(ready.suspects)
    const beyond = afterRepair(ready, node.weights, repair, weights)
    const next = this.node(weights, ready.task.proof, node.done, this.keyWith(node.key, `r${repair}`))
    const price = ready.repairCost(repair, node.state, node.place) + beyond / node.weight
    return [{ action: { kind: 'repair', id }, price, branches: next.weight > 0 ? [{ outcome: NOT_CURED, next }] : [] }]
  }

  /** Whether an outcome would say anything about the suspects left. */
  private tells({ weights }: TroubleNode, test: number): boolean {
    const { suspects, columns, outcomes } = this.ready
    const first = weights.findIndex((weight) => weight > 0)
    for (let o = 0; o < outcomes[test]; o++)
      for (let s = first + 1; s < suspects; s++)
        if (weights[s] > 0 && columns[test][o * suspects + s] !== columns[test][o * suspects + first]) return true
    return false
  }

  private keyWith(key: string, entry: string): string {
    const entries = key === '' ? [entry] : [...key.split(' '), entry]
    return (this.orderMatters ? entries : entries.sort()).join(' ')
  }

  private node(weights: Float64Array, at: { state: number; place: number }, done: Uint8Array, key: string): TroubleNode {
    return { weights, weight: sumOf(weights), state: at.state, place: at.place, done, key, isEnded: false }
  }
}
