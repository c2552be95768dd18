/**
 * What readings have taught about the latent quantities, in the manner of a Kalman filter:
 *     mean = sum_j shift_j J_j,   covariance = I - sum_k u_k u_k',   u_k = sum_j gain_kj J_j
 * over the rows J_j (sensitivities) learnt from so far. Only products of rows occur, so a step costs k² for k rows, whatever the
 * number of latents, and the many paths of one cell share the products.
 */

import type { Sensitivities } from './evidence.js'
import type { Truncated } from './interval.js'

/** The rows one cell has learnt from or may yet: in order, so that a row is only ever seen from rows before it. */
export class Rows {
  private readonly sensitivities: Sensitivities[] = []
  private dense = new Float64Array(0)

  /** Adds a row and returns its number. */
  add(row: Sensitivities): number {
    return this.sensitivities.push(row) - 1
  }

  get size(): number {
    return this.sensitivities.length
  }

  /** Takes away the rows from `size` on: those of a prediction that was only looked at. */
  shrinkTo(size: number): void {
    this.sensitivities.length = size
  }

  /** Products of a row, of this table or not, with the rows of the table. Cost: one sparse product each. */
  against({ index, value }: Sensitivities): Float64Array {
    const top = index.length === 0 ? 0 : index[index.length - 1] + 1
    if (this.dense.length < top) this.dense = new Float64Array(Math.max(top, 2 * this.dense.length))
    for (let i = 0; i < index.length; i++) this.dense[index[i]] = value[i]
    const products = Float64Array.from(this.sensitivities, (row) => this.dot(row))
    for (let i = 0; i < index.length; i++) this.dense[index[i]] = 0
    return products
  }

  private dot({ index, value }: Sensitivities): number {
    let sum = 0
    for (let i = 0; i < index.length && index[i] < this.dense.length; i++) sum += value[i] * this.dense[index[i]]
    return sum
  }
}

/** Product of a row with itself: the prior variance of the quantity. */
export function ownProduct({ value }: Sensitivities): number {
  let sum = 0
  for (let i = 0; i < value.length; i++) sum += value[i] * value[i]
  return sum
}

/**
 * The last row learnt from and all before it: immutable, a chain, so that paths which part share what they had in common.
 * `gain` and `shift` have an entry for each row of the chain, first row first.
 */
export interface Lesson {
  readonly before: Knowledge
  readonly depth: number
  readonly row: number
  readonly gain: readonly number[]
  readonly shift: readonly number[]
}

/** Null: nothing learnt yet. */
export type Knowledge = Lesson | null

/** A linear quantity seen from what is known: its expected move off its prior mean, and its variance. */
export interface Projection {
  readonly shift: number
  readonly variance: number
  /** Products with the u_k. */
  readonly along: readonly number[]
}

/** Variance below this share of the prior variance is rounding of the subtraction. */
const ROUNDING = 1e-14

/** Projects a row with product `own` by itself and `products[j]` with row j of the table. Cost: k². */
export function project(known: Knowledge, own: number, products: ArrayLike<number>): Projection {
  if (known === null) return { shift: 0, variance: own, along: [] }
  const along: number[] = []
  const seen: number[] = []
  for (let lesson: Knowledge = known; lesson !== null; lesson = lesson.before) {
    seen.push(products[lesson.row])
    along.push(0)
  }
  seen.reverse()
  let shift = 0
  let variance = own
  for (let k = 0; k < seen.length; k++) shift += known.shift[k] * seen[k]
  for (let lesson: Knowledge = known; lesson !== null; lesson = lesson.before) {
    let sum = 0
    for (let j = 0; j <= lesson.depth; j++) sum += lesson.gain[j] * seen[j]
    along[lesson.depth] = sum
    variance -= sum * sum
  }
  return { shift, variance: Math.max(variance, ROUNDING * own), along }
}

/**
 * Knowledge after the quantity `row` plus a fresh part was found as `found` says, in units of its standard deviation: exact for a
 * point, and by matched mean and variance for an interval or a side of a threshold.
 */
export function learn(known: Knowledge, row: number, { along }: Projection, totalVariance: number, found: Truncated): Lesson {
  const step = found.mean / Math.sqrt(totalVariance)
  const scale = Math.sqrt(Math.max(1 - found.variance, 0) / totalVariance)
  const gain = along.map(() => 0)
  for (let lesson = known; lesson !== null; lesson = lesson.before) {
    for (let j = 0; j <= lesson.depth; j++) gain[j] -= along[lesson.depth] * lesson.gain[j]
  }
  gain.push(1)
  const shift = gain.map((g, j) => step * g + (known !== null && j <= known.depth ? known.shift[j] : 0))
  for (let j = 0; j < gain.length; j++) gain[j] *= scale
  return { before: known, depth: along.length, row, gain, shift }
}
