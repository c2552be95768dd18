/** The plan without any test: repairs one after the other until the proof look is good, or an end where going on costs more. */

import { CURED, type ReadyTrouble } from './ready.js'
import { afterRepair } from './steps.js'

/** Takes note of ways a plan may go: time until the last needed repair began, time until the proof, weighted. */
export interface Course {
  /** `found`: time at which the repair that cures begins.  `proved`: time at the end of its proof look. */
  readonly cured: (found: number, proved: number, weight: number) => void
  /** Ended with something still wrong; the time holds the comeback and the right repair. */
  readonly cameBack: (time: number, weight: number) => void
  /** Ended, and nothing is wrong. */
  readonly sound: (time: number, weight: number) => void
}

/** A rest of weight below this share of the first is nothing. */
const NOTHING = 1e-7

/**
 * Repairs by falling chance of curing per cost: the cheapest order where one repair cures and costs do not depend on the order
 * (J. B. Kadane, H. A. Simon, Annals of Statistics 5 (1977); from memory), and a good one elsewhere.
 */
export class RepairOrder {
  private readonly rate: Float64Array
  private readonly order: Int32Array
  /** By repair: the suspects that need it. */
  private readonly needing: readonly Int32Array[]
  /** Suspects left, and their weights. */
  private readonly live: Int32Array
  private readonly left: Float64Array
  private readonly half: Int32Array
  private here = 0
  /** Weight left, cost of ending with it, cost so far. */
  private whole = 0
  private ending = 0
  private spent = 0
  /** Repairs before the best place to end, as last followed. */
  private repairs = 0
  private now: Float64Array
  private next: Float64Array

  constructor(private readonly ready: ReadyTrouble) {
    const { repairs, suspects, fate } = ready
    this.rate = new Float64Array(repairs)
    this.order = new Int32Array(repairs)
    const all = Array.from({ length: suspects }, (_, s) => s)
    this.needing = Array.from({ length: repairs }, (_, r) => Int32Array.from(all.filter((s) => fate[r * suspects + s] !== s)))
    this.live = new Int32Array(suspects)
    this.left = new Float64Array(suspects)
    this.half = new Int32Array(suspects)
    this.now = new Float64Array(suspects)
    this.next = new Float64Array(suspects)
  }

  /** Weighted cost from where one stands, with the best place to end. */
  costOf(weights: Float64Array, state: number, place: number): number {
    return this.follow(weights, state, place, this.sort(weights))
  }

  /** The first repair of the order; undefined where ending is cheaper. */
  firstOf(weights: Float64Array, state: number, place: number): number | undefined {
    this.follow(weights, state, place, this.sort(weights))
    return this.repairs === 0 ? undefined : this.order[0]
  }

  /** The repairs of the order, up to the best place to end. */
  repairsOf(weights: Float64Array, state: number, place: number): number[] {
    this.follow(weights, state, place, this.sort(weights))
    return [...this.order.subarray(0, this.repairs)]
  }

  /** Tells the ways this plan may go, from a time on. */
  tell(weights: Float64Array, state: number, place: number, time: number, course: Course): void {
    this.follow(weights, state, place, this.sort(weights))
    const count = this.repairs
    const { ready } = this
    const { proof } = ready.task
    let from = weights
    let at = time
    for (let k = 0; k < count; k++) {
      const repair = this.order[k]
      const found = at
      at += ready.repairTime(repair, k === 0 ? place : proof.place)
      at += ready.proofTime(repair, k === 0 ? state : proof.state, k === 0 ? place : proof.place)
      tellRepair(ready, from, repair, found, at, course)
      afterRepair(ready, from, repair, this.next)
      ;[this.now, this.next] = [this.next, this.now]
      from = this.now
    }
    tellEnd(ready, from, at, course)
  }

  /** Repairs that some suspect needs, by falling chance per cost; returns their number. */
  private sort(weights: Float64Array): number {
    const { ready, rate, order } = this
    const { suspects, fate, again } = ready
    let count = 0
    for (let r = 0; r < ready.repairs; r++) {
      let chance = 0
      const needing = this.needing[r]
      for (let i = 0; i < needing.length; i++) {
        const s = needing[i]
        chance += fate[r * suspects + s] === CURED ? weights[s] : HALF_MENDED * weights[s]
      }
      if (!(chance > 0)) continue
      rate[r] = chance / again[r]
      let at = count++
      for (; at > 0 && rate[order[at - 1]] < rate[r]; at--) order[at] = order[at - 1]
      order[at] = r
    }
    return count
  }

  private follow(weights: Float64Array, state: number, place: number, count: number): number {
    const { ready } = this
    this.begin(weights)
    const nothing = NOTHING * this.whole
    let best = this.ending
    this.repairs = 0
    for (let k = 0; k < count && this.whole > nothing && this.spent < best; k++) {
      const repair = this.order[k]
      this.spent += this.whole * (k === 0 ? ready.repairCost(repair, state, place) : ready.again[repair])
      this.mend(repair)
      if (this.spent + this.ending >= best) continue
      best = this.spent + this.ending
      this.repairs = k + 1
    }
    return best
  }

  private begin(weights: Float64Array): void {
    const { live, left, ready } = this
    this.here = 0
    this.spent = 0
    this.whole = 0
    this.ending = 0
    for (let s = 0; s < weights.length; s++) {
      left[s] = weights[s]
      if (weights[s] === 0) continue
      this.whole += weights[s]
      this.ending += weights[s] * ready.wrongEnd[s]
      live[this.here++] = s
    }
  }

  /** The same as `afterRepair`, in one pass over the suspects still there: this is where most of the time goes. */
  private mend(repair: number): void {
    const { live, left, half } = this
    const { suspects, fate, missed, wrongEnd, again, isSound, task } = this.ready
    const bad = task.badNewPart * again[repair]
    let kept = 0
    let halves = 0
    let whole = 0
    let ending = 0
    let spent = this.spent
    for (let i = 0; i < this.here; i++) {
      const s = live[i]
      const weight = left[s]
      const after = fate[repair * suspects + s]
      if (after === s && !isSound[s]) {
        spent += weight * missed[s] * wrongEnd[s]
        left[s] = weight * (1 - missed[s])
        whole += left[s]
        ending += left[s] * wrongEnd[s]
        live[kept++] = s
        continue
      }
      if (after !== s) spent += weight * bad
      if (after >= 0 && after !== s) half[halves++] = s
      else left[s] = 0
    }
    this.here = kept
    this.whole = whole
    this.ending = ending
    this.spent = spent
    for (let i = 0; i < halves; i++) this.goOnAs(half[i], fate[repair * suspects + half[i]])
  }

  /** A suspect half mended goes on as another one. */
  private goOnAs(suspect: number, after: number): void {
    const { live, left } = this
    const { missed, wrongEnd } = this.ready
    const weight = left[suspect]
    const rest = weight * (1 - missed[after])
    left[suspect] = 0
    this.spent += weight * missed[after] * wrongEnd[after]
    this.whole += rest
    this.ending += rest * wrongEnd[after]
    if (left[after] === 0) live[this.here++] = after
    left[after] += rest
  }
}

/** What mending one of two faults is worth beside curing. */
const HALF_MENDED = 0.5

/** Tells what a repair ends: cured, or taken for cured. */
export function tellRepair(
  ready: ReadyTrouble,
  weights: Float64Array,
  repair: number,
  found: number,
  proved: number,
  course: Course,
): void {
  const { suspects, fate, isSound, missed } = ready
  for (let s = 0; s < suspects; s++) {
    if (weights[s] === 0) continue
    const left = fate[repair * suspects + s]
    if (isSound[s]) course.sound(proved, weights[s])
    else if (left === CURED) course.cured(found, proved, weights[s])
    else if (missed[left] > 0) course.cameBack(proved + timeBack(ready, left), weights[s] * missed[left])
  }
}

export function tellEnd(ready: ReadyTrouble, weights: Float64Array, time: number, course: Course): void {
  for (let s = 0; s < ready.suspects; s++) {
    if (weights[s] === 0) continue
    if (ready.isSound[s]) course.sound(time, weights[s])
    else course.cameBack(time + timeBack(ready, s), weights[s])
  }
}

/** Time that a wrong end adds: the comeback, and the right repairs with their proof. */
function timeBack({ task, names }: ReadyTrouble, suspect: number): number {
  const { suspects, repairs, ways, proof, comeback } = task
  return suspects[names[suspect]].needs.reduce((sum, repair) => {
    const { time, place } = repairs[repair]
    const way = place === undefined ? 0 : ways[proof.place][place] + ways[place][proof.place]
    return sum + time + way + proof.time
  }, comeback.time)
}
