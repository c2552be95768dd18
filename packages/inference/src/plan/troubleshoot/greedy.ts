/** The base plan: the test that saves most for its cost while any pays by itself, then repairs in order. */

import { ClassView } from './classes.js'
import { type Course, RepairOrder } from './order.js'
import type { ReadyTrouble } from './ready.js'
import { afterOutcome, sumOf } from './steps.js'

export interface GreedyOptions {
  /** Tests whose saving is computed at each node, those of most information per cost. */
  readonly tried: number
  /** Branches of a chance below this share of the root's are ended by repairs in order. */
  readonly cutoff: number
  /** Tests one after the other at most. */
  readonly depth: number
}

/** No test pays by itself. */
const REPAIR = -1

/** Savings within this share are a tie, which goes to the first by name. */
const TIE = 1e-9

/**
 * The base plan of one table. Every node is left by a test or by `RepairOrder`, which is a plan itself: costs are those of a plan
 * that can be followed, cut branches included.
 */
export class GreedyTrouble {
  readonly order: RepairOrder
  private readonly stack: Float64Array[] = []
  private readonly scratch: Float64Array
  private readonly scores: Float64Array
  private readonly best: Int32Array
  private readonly view: ClassView
  private least = 0

  constructor(
    private readonly ready: ReadyTrouble,
    private readonly options: GreedyOptions,
  ) {
    this.order = new RepairOrder(ready)
    this.scratch = new Float64Array(ready.suspects)
    this.scores = new Float64Array(ready.tests)
    this.best = new Int32Array(options.tried + 1)
    this.view = new ClassView(ready)
  }

  /** Weighted cost of the base plan from a node on. `root`: the weight that the cutoff is a share of. */
  costOf(weights: Float64Array, state: number, place: number, done: Uint8Array, root: number): number {
    this.least = this.options.cutoff * root
    return this.run(0, weights, state, place, done)
  }

  /** Tells the ways the base plan may go, from a time on. */
  tell(
    weights: Float64Array,
    position: { state: number; place: number },
    done: Uint8Array,
    root: number,
    from: number,
    course: Course,
  ): void {
    this.least = this.options.cutoff * root
    this.run(0, weights, position.state, position.place, done, from, course)
  }

  /** The test that the base plan takes, or undefined where it repairs. */
  testAt(weights: Float64Array, state: number, place: number, done: Uint8Array): number | undefined {
    const test = this.choose(weights, state, place, done)
    return test === REPAIR ? undefined : test
  }

  /** Information about the repair per cost, by test [bit per unit of cost, weighted]; 0 for what is done. */
  scoresAt(weights: Float64Array, state: number, place: number, done: Uint8Array): Float64Array {
    this.view.setOut(weights, sumOf(weights))
    for (let t = 0; t < this.ready.tests; t++)
      this.scores[t] = done[t] ? 0 : this.view.bitsOf(t) / Math.max(this.ready.testCost(t, state, place), LEAST_COST)
    return this.scores
  }

  /** Cost of a test followed by repairs in order. */
  testThenRepair(weights: Float64Array, test: number, state: number, place: number): number {
    const { ready, scratch } = this
    const { state: to, place: at } = ready.task.tests[test]
    let cost = sumOf(weights) * ready.testCost(test, state, place)
    for (let o = 0; o < ready.outcomes[test]; o++)
      if (afterOutcome(ready, weights, test, o, scratch) > 0) cost += this.order.costOf(scratch, to, at)
    return cost
  }

  private run(
    depth: number,
    weights: Float64Array,
    state: number,
    place: number,
    done: Uint8Array,
    time = 0,
    course?: Course,
  ): number {
    const { ready, options } = this
    const whole = sumOf(weights)
    if (whole === 0) return 0
    const goesOn = whole >= this.least && depth < options.depth
    const test = goesOn ? this.choose(weights, state, place, done) : REPAIR
    if (test === REPAIR) {
      if (course) this.order.tell(weights, state, place, time, course)
      return course ? 0 : this.order.costOf(weights, state, place)
    }
    const { state: to, place: at } = ready.task.tests[test]
    const after = time + ready.testTime(test, state, place)
    const next = (this.stack[depth] ??= new Float64Array(ready.suspects))
    let cost = whole * ready.testCost(test, state, place)
    done[test] = 1
    for (let o = 0; o < ready.outcomes[test]; o++)
      if (afterOutcome(ready, weights, test, o, next) > 0) cost += this.run(depth + 1, next, to, at, done, after, course)
    done[test] = 0
    return cost
  }

  /** Of the tests of most information per cost, the one whose saving, as it looks by class, pays best; none where none pays. */
  private choose(weights: Float64Array, state: number, place: number, done: Uint8Array): number {
    const count = this.likeliest(weights, state, place, done)
    const stay = this.view.repairCost()
    let chosen = REPAIR
    let most = 1 + TIE
    for (let k = 0; k < count; k++) {
      const test = this.best[k]
      const price = this.ready.testCost(test, state, place)
      const saving = stay - this.view.repairCostAfter(test)
      const ratio = price > 0 ? saving / price : saving > 0 ? Number.POSITIVE_INFINITY : 0
      if (ratio > most * (1 + TIE) || (chosen > test && ratio >= most * (1 - TIE))) [chosen, most] = [test, ratio]
    }
    return chosen
  }

  /** Fills `best` with the tests of highest score; returns their number. */
  private likeliest(weights: Float64Array, state: number, place: number, done: Uint8Array): number {
    const scores = this.scoresAt(weights, state, place, done)
    const { best } = this
    let count = 0
    for (let t = 0; t < scores.length; t++) {
      if (!(scores[t] > NO_INFORMATION)) continue
      let at = count < this.options.tried ? count++ : count
      for (; at > 0 && scores[best[at - 1]] < scores[t]; at--) best[at] = best[at - 1]
      best[at] = t
    }
    return count
  }
}

/** Information per cost below this is rounding. */
const NO_INFORMATION = 1e-9
/** Tests that cost nothing are as good as this, so that no score is infinite. */
const LEAST_COST = 1e-6
