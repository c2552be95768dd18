/**
 * A belief seen by class, the suspects cured by the same repairs: what tests would tell of it, and roughly what repairs in order
 * would cost. Quick, and good enough to choose by; what a plan costs is never taken from here.
 */

import type { ReadyTrouble } from './ready.js'

const STEPS = 4096
/** x log2 x at steps of 1/4096 of 0 to 1: scores need no more digits. */
const TERM = Float64Array.from({ length: STEPS + 2 }, (_, i) => (i === 0 ? 0 : (i / STEPS) * Math.log2(i / STEPS)))

function term(x: number): number {
  const at = x * STEPS
  const i = at | 0
  return TERM[i] + (at - i) * (TERM[i + 1] - TERM[i])
}

/** Views of one table. Set out a belief first; everything is per unit of its weight. */
export class ClassView {
  private readonly weights: Float64Array
  /** First suspect of each class, and one past the last. */
  private readonly first: Int32Array
  private readonly mass: Float64Array
  /** Mass of the classes now, and what the outcomes seen so far leave of it. */
  private readonly all: Float64Array
  private readonly rest: Float64Array
  /** Classes, by falling rate since the last sorting: the next one begins nearly sorted. */
  private readonly order: Int32Array
  private readonly rate: Float64Array
  /** By class: cost of its repairs with their proofs, of ending with it still there, whether it is *nothing wrong*. */
  private readonly price: Float64Array
  private readonly wrongEnd: Float64Array
  private readonly isSound: Uint8Array
  private readonly missed: number
  private before = 0

  constructor(private readonly ready: ReadyTrouble) {
    const { classes, classOf, suspects } = ready
    this.weights = new Float64Array(suspects)
    this.first = Int32Array.from({ length: classes + 1 }, (_, c) => (c === classes ? suspects : classOf.indexOf(c)))
    this.mass = new Float64Array(classes)
    this.all = new Float64Array(classes)
    this.rest = new Float64Array(classes)
    this.order = Int32Array.from({ length: classes }, (_, c) => c)
    this.rate = new Float64Array(classes)
    const ofFirst = (of: (s: number) => number) => Float64Array.from({ length: classes }, (_, c) => of(this.first[c]))
    const needs = (s: number) => ready.task.suspects[ready.names[s]].needs
    this.price = ofFirst((s) => needs(s).reduce((sum, repair) => sum + ready.again[repair], 0))
    this.wrongEnd = ofFirst((s) => ready.wrongEnd[s])
    this.isSound = Uint8Array.from({ length: classes }, (_, c) => ready.isSound[this.first[c]])
    this.missed = meanMissed(ready)
  }

  setOut(weights: Float64Array, whole: number): void {
    const scale = whole > 0 ? 1 / whole : 0
    for (let s = 0; s < weights.length; s++) this.weights[s] = weights[s] * scale
    const { all, first } = this
    for (let c = 0; c < all.length; c++) {
      let sum = 0
      for (let s = first[c]; s < first[c + 1]; s++) sum += this.weights[s]
      all[c] = sum
    }
    this.before = this.terms(all)
  }

  /** What a test tells about the class [bit]. */
  bitsOf(test: number): number {
    this.rest.set(this.all)
    let bits = -this.before
    for (let o = 0; o < this.ready.outcomes[test]; o++) bits += this.terms(this.collect(test, o))
    return bits
  }

  /** Roughly what repairs in order cost now. */
  repairCost(): number {
    return this.inOrder(this.all)
  }

  /** The same after a test, over its outcomes; the test itself not counted. */
  repairCostAfter(test: number): number {
    this.rest.set(this.all)
    let cost = 0
    for (let o = 0; o < this.ready.outcomes[test]; o++) cost += this.inOrder(this.collect(test, o))
    return cost
  }

  /** Mass of the classes with an outcome, asked for in order; the last one is what the others leave. */
  private collect(test: number, outcome: number): Float64Array {
    const { weights, first, mass, rest, ready } = this
    if (outcome === ready.outcomes[test] - 1) return rest
    const column = ready.columns[test]
    const offset = outcome * ready.suspects
    for (let c = 0; c < mass.length; c++) {
      let sum = 0
      for (let s = first[c]; s < first[c + 1]; s++) sum += weights[s] * column[offset + s]
      mass[c] = sum
      rest[c] = Math.max(0, rest[c] - sum)
    }
    return mass
  }

  /** Sum over the classes of x log2 x, less that of their sum. */
  private terms(mass: Float64Array): number {
    let terms = 0
    let whole = 0
    for (let c = 0; c < mass.length; c++) {
      terms += term(mass[c])
      whole += mass[c]
    }
    return terms - term(Math.min(whole, 1))
  }

  /** Classes mended one after the other, by falling mass per price, or ended where that is cheaper. */
  private inOrder(mass: Float64Array): number {
    const { price, wrongEnd, order } = this
    let ending = 0
    let whole = 0
    let sound = 0
    for (let c = 0; c < mass.length; c++) {
      ending += mass[c] * wrongEnd[c]
      if (this.isSound[c]) sound += mass[c]
      else whole += mass[c]
    }
    let best = ending
    let spent = 0
    let stays = 1
    this.sort(mass)
    for (let k = 0; k < order.length && spent < best; k++) {
      const c = order[k]
      if (!(this.rate[c] > 0)) break
      spent += (whole * stays + (k === 0 ? sound : 0)) * price[c]
      whole -= mass[c]
      ending -= mass[c] * wrongEnd[c]
      spent += ending * stays * this.missed
      stays *= 1 - this.missed
      best = Math.min(best, spent + ending * stays)
    }
    return best
  }

  private sort(mass: Float64Array): void {
    const { price, order, rate } = this
    for (let c = 0; c < mass.length; c++) rate[c] = this.isSound[c] ? 0 : mass[c] / price[c]
    for (let k = 1; k < order.length; k++) {
      const c = order[k]
      let at = k
      for (; at > 0 && rate[order[at - 1]] < rate[c]; at--) order[at] = order[at - 1]
      order[at] = c
    }
  }
}

function meanMissed({ weights, missed, isSound }: ReadyTrouble): number {
  let sum = 0
  let whole = 0
  for (let s = 0; s < weights.length; s++) {
    if (isSound[s]) continue
    sum += weights[s] * missed[s]
    whole += weights[s]
  }
  return whole > 0 ? sum / whole : 0
}
