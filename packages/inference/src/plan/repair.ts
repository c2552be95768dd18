/** Repair as a decision problem over (ways to be faulty still possible, parts replaced, tests done, state of the machine). */

import { finalChange, priceOf, type Way } from './machine.js'
import { leastCostOfTests, prefixCodeLength } from './prefix-code.js'
import type { Branch, Choice, DecisionProblem } from './problem.js'
import { ReadyRepair, type RepairTask } from './repair-task.js'
import { setKey } from './suspect-set.js'

/** A test, or a replacement with the check after it, and the state in which to do it. */
export type RepairStep =
  | { readonly kind: 'test'; readonly test: string; readonly state: string }
  | { readonly kind: 'replace'; readonly part: string; readonly state: string }

/** Outcomes of a replacement: the complaint is still there, or gone. */
export const STILL_THERE = 0
export const MENDED = 1

/** What may still be wrong, world by world, and what was done. */
export interface RepairNode {
  readonly worlds: readonly number[]
  /** By world: the number of the set of parts still faulty, and the weight. */
  readonly sets: readonly number[]
  readonly weights: readonly number[]
  readonly weight: number
  /** Tests that cannot be repeated, with what they showed and after which replacements, in the order of the task. */
  readonly done: readonly { readonly test: number; readonly key: string }[]
  readonly state: number
  readonly isMended: boolean
}

/**
 * The problem of repairing, for `solvePlan`, `greedyPlan` and `firstSteps`. The greedy score is information per cost that is
 * not needed anyway [bit per unit]: replacing what is surely faulty wastes nothing and comes first.
 */
export function repairProblem(task: RepairTask): DecisionProblem<RepairNode, RepairStep> {
  return new Repair(new ReadyRepair(task))
}

class Repair implements DecisionProblem<RepairNode, RepairStep> {
  readonly root: RepairNode
  private readonly least: readonly number[]

  constructor(private readonly ready: ReadyRepair) {
    const { worlds } = ready.task
    this.least = ready.machine.ways.map((ways) => Math.min(...ways.map(({ cost }) => cost)))
    this.root = nodeOf({
      worlds: worlds.map((_, world) => world),
      sets: worlds.map(({ faulty }) => ready.setOf(faulty)),
      weights: worlds.map(({ weight }) => weight),
      done: [],
      state: ready.machine.start,
      isMended: false,
    })
  }

  keyOf = ({ worlds, sets, done, state, isMended }: RepairNode): string =>
    `${isMended ? '!' : ''}${state} ${setKey(worlds)} ${sets.join()} ${done.map(({ key }) => key).join(' ')}`

  weightOf = ({ weight }: RepairNode): number => weight

  endCostOf = ({ isMended, weight, state }: RepairNode): number | undefined =>
    isMended ? weight * finalChange(this.ready.machine, state) : undefined

  suspectsOf = ({ worlds }: RepairNode): readonly number[] => worlds

  choicesOf = (node: RepairNode): Choice<RepairNode, RepairStep>[] => [
    ...this.ready.task.tests.flatMap((_, test) => this.testsOf(node, test)),
    ...this.partsOf(node).flatMap((part) => this.replacementsOf(node, part)),
  ]

  /** Where the faulty parts are known, all of them must be replaced, in whichever order. */
  undominated = (
    { sets }: RepairNode,
    choices: readonly Choice<RepairNode, RepairStep>[],
  ): readonly Choice<RepairNode, RepairStep>[] =>
    this.ready.machine.names.length === 1 && sets.every((set) => set === sets[0]) ? choices.slice(0, 1) : choices

  boundOf = (node: RepairNode): number => this.neededOf(node) + this.searchingOf(node)

  scoreOf = (node: RepairNode, { price, branches }: Choice<RepairNode, RepairStep>): number => {
    const needed = this.neededOf(node) - branches.reduce((sum, { next }) => sum + this.neededOf(next), 0)
    const wasted = price * node.weight - needed
    return wasted <= WASTE_ROUNDING * price * node.weight ? Number.POSITIVE_INFINITY : information(node, branches) / wasted
  }

  /** What the faulty parts cost, had one known them. */
  private neededOf({ sets, weights }: RepairNode): number {
    return sets.reduce((sum, set, i) => sum + weights[i] * this.costOfSet(set), 0)
  }

  private costOfSet(set: number): number {
    const { tests } = this.ready.task
    return this.ready.sets[set].reduce((sum, part) => sum + this.least[tests.length + part], 0)
  }

  /**
   * What finding the one faulty part costs at least: the prefix code of the parts, less the last step of each path, which is the
   * part's own replacement and already counted. Where several may be faulty an end does not tell them apart, and the bound is 0.
   */
  private searchingOf({ sets, weights, weight, isMended, done }: RepairNode): number {
    if (isMended || sets.some((set) => this.ready.sets[set].length > 1)) return 0
    const byPart = new Map<number, number>()
    for (const [i, set] of sets.entries()) byPart.set(set, (byPart.get(set) ?? 0) + weights[i])
    const { tests } = this.ready.task
    const open = tests.flatMap((_, test) => (done.some((one) => one.test === test) ? [] : [test]))
    const arity = open.reduce((most, test) => Math.max(most, tests[test].rows[0].length), 2)
    const steps = Math.max(0, prefixCodeLength([...byPart.values()], arity) / weight - 1)
    const parts = [...byPart.keys()].map((set) => tests.length + this.ready.sets[set][0])
    const costs = [...open, ...parts].map((action) => this.least[action]).sort((a, b) => a - b)
    return weight * leastCostOfTests(running(costs), steps)
  }

  /** Parts that are faulty in some world still possible. */
  private partsOf({ sets }: RepairNode): number[] {
    return [...new Set(sets.flatMap((set) => this.ready.sets[set]))].sort((a, b) => a - b)
  }

  private testsOf(node: RepairNode, test: number): Choice<RepairNode, RepairStep>[] {
    if (node.done.some((one) => one.test === test) || !this.tells(node, test)) return []
    const { id, rows } = this.ready.task.tests[test]
    const outcomes = rows[0].map((_, outcome) => outcome)
    return this.ways(node, test, (way) => ({
      action: { kind: 'test', test: id, state: this.ready.machine.names[way.state] },
      branches: outcomes.flatMap((outcome) => {
        const next = this.after(node, test, outcome, way.leaves)
        return next.worlds.length === 0 ? [] : [{ outcome, next }]
      }),
    }))
  }

  private replacementsOf(node: RepairNode, part: number): Choice<RepairNode, RepairStep>[] {
    const { parts, tests } = this.ready.task
    const left = node.sets.map((set) => this.ready.without(set, part))
    const keep = (state: number, isMended: boolean): RepairNode =>
      select(node, (i) => (left[i] === 0) === isMended, { sets: left, weights: node.weights, done: node.done, state, isMended })
    return this.ways(node, tests.length + part, (way) => ({
      action: { kind: 'replace', part: parts[part].id, state: this.ready.machine.names[way.state] },
      branches: [
        { outcome: STILL_THERE, next: keep(way.leaves, false) },
        { outcome: MENDED, next: keep(way.leaves, true) },
      ].filter(({ next }) => next.worlds.length > 0),
    }))
  }

  private ways(
    { state }: RepairNode,
    action: number,
    choiceBy: (way: Way) => Omit<Choice<RepairNode, RepairStep>, 'price'>,
  ): Choice<RepairNode, RepairStep>[] {
    return this.ready.machine.ways[action].flatMap((way) => {
      const price = priceOf(this.ready.machine, state, way)
      return price === Number.POSITIVE_INFINITY ? [] : [{ ...choiceBy(way), price }]
    })
  }

  /** Whether a test can show anything new. */
  private tells({ sets }: RepairNode, test: number): boolean {
    const first = this.ready.outcomesOf(test, sets[0])
    return sets.some((set) => this.ready.outcomesOf(test, set).some((probability, outcome) => probability !== first[outcome]))
  }

  private after(node: RepairNode, test: number, outcome: number, state: number): RepairNode {
    const { worlds } = this.ready.task
    const weights = node.sets.map((set, i) => node.weights[i] * this.ready.outcomesOf(test, set)[outcome])
    // A result after a replacement says something else than one before it, in worlds that had the part.
    const replaced = node.worlds.flatMap((world, i) =>
      worlds[world].faulty.length > this.ready.sets[node.sets[i]].length ? [world, node.sets[i]] : [],
    )
    const entry = { test, key: `${test}:${outcome}/${replaced.join()}` }
    const done = this.ready.isSure[test] ? node.done : [...node.done, entry].sort((a, b) => a.test - b.test)
    return select(node, (i) => weights[i] > 0, { sets: node.sets, weights, done, state, isMended: false })
  }
}

/** Waste below this share of a step's cost is rounding. */
const WASTE_ROUNDING = 1e-12

/**
 * Weighted information [bit times weight] of a choice about the worlds: entropy of the worlds now less that after each
 * outcome.
 */
function information(node: RepairNode, branches: readonly Branch<RepairNode>[]): number {
  return weightedEntropy(node) - branches.reduce((sum, { next }) => sum + weightedEntropy(next), 0)
}

const weightedEntropy = ({ weights, weight }: RepairNode): number =>
  weights.reduce((sum, one) => (one > 0 ? sum - one * Math.log2(one / weight) : sum), 0)

function running(costs: readonly number[]): Float64Array {
  const sums = new Float64Array(costs.length + 1)
  for (const [i, cost] of costs.entries()) sums[i + 1] = sums[i] + cost
  return sums
}

/** The worlds of a node that are kept, with what is new of them. */
function select(
  { worlds }: RepairNode,
  isKept: (i: number) => boolean,
  { sets, weights, ...rest }: Omit<RepairNode, 'worlds' | 'weight'>,
): RepairNode {
  const kept = worlds.flatMap((_, i) => (isKept(i) ? [i] : []))
  return nodeOf({
    worlds: kept.map((i) => worlds[i]),
    sets: kept.map((i) => sets[i]),
    weights: kept.map((i) => weights[i]),
    ...rest,
  })
}

const nodeOf = (node: Omit<RepairNode, 'weight'>): RepairNode => ({
  ...node,
  weight: node.weights.reduce((sum, weight) => sum + weight, 0),
})
