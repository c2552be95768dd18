/** What mending a machine costs at least, however clever the plan. */

import type { ReadyTrouble } from './ready.js'

/** Something that narrows the suspects down: bits that it tells at most, for a cost at least. */
interface Source {
  readonly test: number
  readonly bits: number
  readonly cost: number
}

/** Weight below this share of the node's is none. */
const NONE = 1e-12

/** Lower bounds over one table. Costs are weighted, as everywhere in planning. */
export class TroubleBound {
  /** Tests and wrong repairs by rising cost per bit. */
  private readonly sources: readonly Source[]
  private readonly byClass: Float64Array

  constructor(private readonly ready: ReadyTrouble) {
    const tests = Array.from({ length: ready.tests }, (_, test) => ({
      test,
      bits: ready.capacity[test],
      cost: ready.leastTest[test],
    }))
    const repairs = Array.from(ready.leastRepair, (cost) => ({ test: -1, bits: 1, cost }))
    this.sources = [...tests, ...repairs].filter(({ bits }) => bits > 0).sort((a, b) => a.cost / a.bits - b.cost / b.bits)
    this.byClass = new Float64Array(ready.classes)
  }

  /** The bound for what is left, where nothing was ended. `done`: tests not to be had any more. */
  of(weights: Float64Array, state: number, place: number, done: Uint8Array): number {
    const need = this.needed(weights)
    return Math.max(need + this.searching(weights, done), this.nextAtLeast(weights, need, state, place, done))
  }

  /** The right repairs alone, had one known. */
  needed(weights: Float64Array): number {
    let sum = 0
    for (let s = 0; s < weights.length; s++) sum += weights[s] * this.ready.need[s]
    return sum
  }

  /**
   * Bits have to be bought. Where the suspects need one repair each, the class is known when the right repair has been proved, so
   * all steps together must tell H(class), less what wrong ends leave open: at most h(e) + e log2(K) for a share e of them (Fano).
   * The right repair itself tells one bit for nothing. Every other source tells `bits` for `cost`, once; the cheapest come first:
   *     extra(x) = max over j of k_j x - offset_j,  x = H - 1 - h(e) - e log2 K,
   * and the worst e for slope k is known: h(e) + e (log2 K - l) <= log2(1 + K 2^-l), l = comeback / k.
   * Suspects of several repairs, and nothing wrong, are left out: a plan costs no less with them (their share is >= 0).
   */
  private searching(weights: Float64Array, done: Uint8Array): number {
    const { byClass, ready } = this
    byClass.fill(0)
    let whole = 0
    for (let s = 0; s < weights.length; s++) {
      if (!ready.isSingle[s]) continue
      byClass[ready.classOf[s]] += weights[s]
      whole += weights[s]
    }
    if (!(whole > 0)) return 0
    let bits = -1
    let classes = 0
    for (const weight of byClass) {
      if (!(weight > NONE * whole)) continue
      bits -= (weight / whole) * Math.log2(weight / whole)
      classes += 1
    }
    if (bits <= 0) return 0
    return whole * this.priceOfBits(bits, classes, done)
  }

  private priceOfBits(bits: number, classes: number, done: Uint8Array): number {
    let most = 0
    let offset = 0
    let bought = 0
    for (const { test, bits: told, cost } of this.sources) {
      if (test >= 0 && done[test]) continue
      // The tangent of slope k through the point where the dearer source begins.
      const slope = cost / told
      const open = Math.log2(1 + classes * 2 ** (-this.ready.comeback / slope))
      most = Math.max(most, slope * (bits - open - bought) + offset)
      offset += cost
      bought += told
      if (bought >= bits) break
    }
    return most
  }

  /** Whatever is done first costs what it costs; after it at least the right repairs are left. */
  private nextAtLeast(weights: Float64Array, need: number, state: number, place: number, done: Uint8Array): number {
    const { ready } = this
    let whole = 0
    let ending = 0
    for (let s = 0; s < weights.length; s++) {
      whole += weights[s]
      ending += weights[s] * ready.wrongEnd[s]
    }
    let least = ending
    for (let t = 0; t < ready.tests; t++) if (!done[t]) least = Math.min(least, need + whole * ready.testCost(t, state, place))
    for (let r = 0; r < ready.repairs; r++) least = Math.min(least, this.repairAtLeast(weights, r, state, place, whole))
    return least
  }

  private repairAtLeast(weights: Float64Array, repair: number, state: number, place: number, whole: number): number {
    const { suspects, fate, missed, wrongEnd, need, again, isSound, task } = this.ready
    let cost = whole * this.ready.repairCost(repair, state, place)
    for (let s = 0; s < suspects; s++) {
      if (weights[s] === 0 || isSound[s]) continue
      const left = fate[repair * suspects + s]
      cost +=
        weights[s] *
        (left < 0 ? task.badNewPart * again[repair] : missed[left] * wrongEnd[left] + (1 - missed[left]) * need[left])
      if (left >= 0 && left !== s) cost += weights[s] * task.badNewPart * again[repair]
    }
    return cost
  }
}
