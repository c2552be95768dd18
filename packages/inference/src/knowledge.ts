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

/** Immutable; `gains[k]` has k+1 entries, one for each row up to its own. */
export interface Knowledge {
  readonly rows: readonly number[]
  readonly gains: readonly (readonly number[])[]
  readonly shift: readonly number[]
}

export const NOTHING_KNOWN: Knowledge = { rows: [], gains: [], shift: [] }

/** A linear quantity seen from what is known: its expected move off its prior mean, and its variance. */
export interface Projection {
  readonly shift: number
  readonly variance: number
  /** Products with the u_k. */
  readonly along: readonly number[]
}

/** Variance below this share of the prior variance is rounding of the subtraction. */
const ROUNDING = 1e-14

/** Projects a row with product `self` by itself and `products[j]` with row j of the table. Cost: k². */
export function project(known: Knowledge, self: number, products: ArrayLike<number>): Projection {
  const { rows, gains, shift: shifts } = known
  const along: number[] = []
  let shift = 0
  let variance = self
  for (let k = 0; k < rows.length; k++) {
    const gain = gains[k]
    shift += shifts[k] * products[rows[k]]
    let sum = 0
    for (let j = 0; j <= k; j++) sum += gain[j] * products[rows[j]]
    along.push(sum)
    variance -= sum * sum
  }
  return { shift, variance: Math.max(variance, ROUNDING * self), along }
}

/**
 * Knowledge after the quantity `row` plus a fresh part was found as `found` says, in units of its standard deviation: exact for a
 * point, and by matched mean and variance for an interval or a side of a threshold.
 */
export function learn(known: Knowledge, row: number, { along }: Projection, totalVariance: number, found: Truncated): Knowledge {
  const count = known.rows.length
  const step = found.mean / Math.sqrt(totalVariance)
  const scale = Math.sqrt(Math.max(1 - found.variance, 0) / totalVariance)
  const shift: number[] = []
  const own: number[] = []
  for (let j = 0; j < count; j++) {
    let residual = 0
    for (let k = j; k < count; k++) residual -= along[k] * known.gains[k][j]
    shift.push(known.shift[j] + step * residual)
    own.push(scale * residual)
  }
  shift.push(step)
  own.push(scale)
  return { rows: known.rows.concat(row), gains: known.gains.concat([own]), shift }
}
