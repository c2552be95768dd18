/** The next step by rollout: each step that looks good is tried, the base plan after it. */

import { GreedyTrouble } from './greedy.js'
import { type Course, tellEnd, tellRepair } from './order.js'
import type { Here, ReadyTrouble } from './ready.js'
import { afterOutcome, afterRepair, endCost, sumOf } from './steps.js'
import type { TroubleStep } from './task.js'

/** What a rollout may take. Counts and shares, so that it repeats exactly. */
export interface RolloutBudget {
  /** First steps tried of each sort: by saving, by information per cost, repairs. */
  readonly width: number
  /** Branches of a chance below this are ended by repairs in order. */
  readonly cutoff: number
  /** Tests one after the other at most. */
  readonly depth: number
}

export const DEFAULT_ROLLOUT: RolloutBudget = { width: 4, cutoff: 0.02, depth: 8 }

/** Tests whose saving is computed at each node of the base plan. */
const TRIED = 5

/** A first step with the cost of the plan that begins so: a cost that can be had. */
export interface TriedStep {
  readonly step: TroubleStep
  readonly cost: number
}

/** Rollouts over one table. */
export class Rollout {
  private readonly greedy: GreedyTrouble
  private readonly next: Float64Array

  constructor(
    private readonly ready: ReadyTrouble,
    private readonly budget: RolloutBudget = DEFAULT_ROLLOUT,
  ) {
    this.greedy = new GreedyTrouble(ready, { tried: TRIED, cutoff: budget.cutoff, depth: budget.depth })
    this.next = new Float64Array(ready.suspects)
  }

  /** Cost of the base plan alone, per unit of weight. */
  baseCost(here: Here): number {
    const whole = sumOf(here.weights)
    return this.greedy.costOf(here.weights, here.state, here.place, here.done, whole) / whole
  }

  /**
   * First steps by rising cost, ties by name. Costs are per unit of weight. The first costs at most what the base plan does.
   * Source: D. P. Bertsekas, D. A. Castanon, J. Heuristics 5 (1999); from memory.
   */
  steps(here: Here): TriedStep[] {
    const whole = sumOf(here.weights)
    const tests = this.testsToTry(here).map((test) => ({
      step: { kind: 'test', id: this.ready.task.tests[test].id } as const,
      cost: this.costOfTest(here, test, whole),
    }))
    const repairs = this.repairsToTry(here).map((repair) => ({
      step: { kind: 'repair', id: this.ready.task.repairs[repair].id } as const,
      cost: this.costOfRepair(here, repair, whole),
    }))
    const end = { step: { kind: 'end' } as const, cost: endCost(this.ready, here.weights) }
    return [...tests, ...repairs, end]
      .map(({ step, cost }) => ({ step, cost: Number((cost / whole).toPrecision(DIGITS)) }))
      .sort((a, b) => a.cost - b.cost || (nameOf(a.step) < nameOf(b.step) ? -1 : 1))
  }

  /** Tells the ways that a step and the base plan after it may go; times from now. */
  tell({ weights, state, place, done }: Here, step: TroubleStep, course: Course): void {
    const { ready, greedy, next } = this
    const { tests, repairs, proof } = ready.task
    const whole = sumOf(weights)
    if (step.kind === 'end') return tellEnd(ready, weights, 0, course)
    if (step.kind === 'test') {
      const test = tests.findIndex(({ id }) => id === step.id)
      const time = ready.testTime(test, state, place)
      done[test] = 1
      for (let o = 0; o < ready.outcomes[test]; o++)
        if (afterOutcome(ready, weights, test, o, next) > 0) greedy.tell(next, tests[test], done, whole, time, course)
      done[test] = 0
      return
    }
    const repair = repairs.findIndex(({ id }) => id === step.id)
    const time = ready.repairTime(repair, place) + ready.proofTime(repair, state, place)
    tellRepair(ready, weights, repair, 0, time, course)
    afterRepair(ready, weights, repair, next)
    greedy.tell(next, proof, done, whole, time, course)
  }

  private costOfTest({ weights, state, place, done }: Here, test: number, whole: number): number {
    const { ready, greedy, next } = this
    const to = ready.task.tests[test]
    let cost = whole * ready.testCost(test, state, place)
    done[test] = 1
    for (let o = 0; o < ready.outcomes[test]; o++)
      if (afterOutcome(ready, weights, test, o, next) > 0) cost += greedy.costOf(next, to.state, to.place, done, whole)
    done[test] = 0
    return cost
  }

  /** The first repair of the order is followed by the rest of it where that is cheaper. */
  private costOfRepair({ weights, state, place, done }: Here, repair: number, whole: number): number {
    const { ready, greedy, next } = this
    const { proof } = ready.task
    const price = whole * ready.repairCost(repair, state, place) + afterRepair(ready, weights, repair, next)
    const cost = price + greedy.costOf(next, proof.state, proof.place, done, whole)
    const inOrder = greedy.order.firstOf(weights, state, place) === repair
    return inOrder ? Math.min(cost, greedy.order.costOf(weights, state, place)) : cost
  }

  /** Tests worth a rollout: the base plan's own, those of lowest cost with repairs after them, those of most information per cost. */
  private testsToTry({ weights, state, place, done }: Here): number[] {
    const { ready, greedy, budget } = this
    const base = greedy.testAt(weights, state, place, done)
    const scores = Array.from(greedy.scoresAt(weights, state, place, done))
    const open = scores.flatMap((score, test) => (score > 0 && !done[test] ? [test] : []))
    const saving = new Map(open.map((test) => [test, greedy.testThenRepair(weights, test, state, place)]))
    const first = (by: (test: number) => number) => [...open].sort((a, b) => by(a) - by(b) || a - b).slice(0, budget.width)
    const kept = [...first((test) => saving.get(test) as number), ...first((test) => -scores[test])]
    return [...new Set([...(base === undefined ? [] : [base]), ...kept])].filter((test) => ready.outcomes[test] > 1)
  }

  /** Repairs worth a rollout, by chance of curing per cost. */
  private repairsToTry({ weights, state, place }: Here): number[] {
    const { ready, budget } = this
    const rated = Array.from({ length: ready.repairs }, (_, repair) => {
      let chance = 0
      for (let s = 0; s < ready.suspects; s++) if (ready.fate[repair * ready.suspects + s] !== s) chance += weights[s]
      return { repair, chance, rate: chance / ready.repairCost(repair, state, place) }
    }).filter(({ chance }) => chance > 0)
    const first = this.greedy.order.firstOf(weights, state, place)
    const kept = rated
      .sort((a, b) => b.rate - a.rate || a.repair - b.repair)
      .slice(0, budget.width)
      .map(({ repair }) => repair)
    return first === undefined ? kept : [...new Set([first, ...kept])]
  }
}

const DIGITS = 9

/** Ties go by name; ending comes last, since it can be done at any time. */
export const nameOf = (step: TroubleStep): string => (step.kind === 'end' ? '\uffff' : `${step.kind} ${step.id}`)
