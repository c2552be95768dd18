/**
 * What readings have taught about the latent quantities, in the manner of a Kalman filter:
 *     mean = sum_j shift_j J_j,   covariance = I - sum_k u_k u_k',   u_k = sum_j gain_kj J_j
 * over the rows J_j (sensitivities) learnt from so far. Only products of rows occur, so a step costs k² for k rows, whatever the
 * number of latents, and the many paths of one cell share the products.
 */

import type { Sensitivities } from './evidence.js'
import type { Truncated } from './interval.js'

/** The rows one cell has learnt from or may yet, with the products among them, computed when first asked for. */
export class Rows {
  private readonly sensitivities: Sensitivities[] = []
  private readonly products: Float64Array[] = []
  private readonly numbers = new Map<Sensitivities, number>()
  private dense = new Float64Array(0)

  /** Number of a row in the table, entered when first met: the margins of a state's way stand in every setup that goes that way. */
  add(row: Sensitivities): number {
    const known = this.numbers.get(row)
    if (known !== undefined) return known
    this.products.push(NO_PRODUCTS)
    const number = this.sensitivities.push(row) - 1
    this.numbers.set(row, number)
    return number
  }

  get size(): number {
    return this.sensitivities.length
  }

  /** Takes away the rows from `size` on: those of a prediction that was only looked at. */
  shrinkTo(size: number): void {
    for (let row = size; row < this.sensitivities.length; row++) this.numbers.delete(this.sensitivities[row])
    this.sensitivities.length = size
    this.products.length = size
    this.products.forEach((products, row) => {
      if (products.length > size) this.products[row] = products.slice(0, size)
    })
  }

  /** Products of a row of the table with all rows, itself too. Cost, once: one sparse product each. */
  productsOf(row: number): Float64Array {
    const known = this.products[row]
    if (known.length < this.size) this.products[row] = this.extended(this.sensitivities[row], known)
    return this.products[row]
  }

  /** Products of any row with the rows of the table. Cost: one sparse product each. */
  against(row: Sensitivities): Float64Array {
    return this.extended(row, NO_PRODUCTS)
  }

  private extended({ index, value }: Sensitivities, known: Float64Array): Float64Array {
    const top = index.length === 0 ? 0 : index[index.length - 1] + 1
    if (this.dense.length < top) this.dense = new Float64Array(Math.max(top, 2 * this.dense.length))
    for (let i = 0; i < index.length; i++) this.dense[index[i]] = value[i]
    const products = new Float64Array(this.size)
    products.set(known)
    for (let j = known.length; j < products.length; j++) products[j] = this.dot(this.sensitivities[j])
    for (let i = 0; i < index.length; i++) this.dense[index[i]] = 0
    return products
  }

  private dot({ index, value }: Sensitivities): number {
    let sum = 0
    for (let i = 0; i < index.length && index[i] < this.dense.length; i++) sum += value[i] * this.dense[index[i]]
    return sum
  }
}

const NO_PRODUCTS = new Float64Array(0)

/** A number to be seen: its row in the table (-1: no latent moves it), prior mean, fresh variance. */
export interface Target {
  readonly row: number
  readonly mean: number
  readonly freshVariance: number
}

/** Enters a quantity in the table of rows. */
export function target(rows: Rows, mean: number, sensitivities: Sensitivities, freshSd: number): Target {
  const row = ownProduct(sensitivities) > 0 ? rows.add(sensitivities) : -1
  return { row, mean, freshVariance: freshSd * freshSd }
}

/** A number as seen from what is known. */
export interface View {
  /** Null where no latent moves the number. */
  readonly seen: Projection | null
  readonly mean: number
  readonly variance: number
}

export function view(rows: Rows, known: Knowledge, { row, mean, freshVariance }: Target): View {
  const products = row < 0 ? NO_PRODUCTS : rows.productsOf(row)
  const seen = row < 0 ? null : project(known, products[row], products)
  return { seen, mean: mean + (seen?.shift ?? 0), variance: spreadOf(mean, (seen?.variance ?? 0) + freshVariance) }
}

/** Where the latents leave less spread than this share of the value, the number counts as certain to that share. */
const LEAST_SPREAD = 1e-9

/** Least variance, whatever the unit: below it quotients would overflow. */
const LEAST_VARIANCE = 1e-60

/** The variance, kept above zero so that a number without any spread is a very sharp one. */
export function spreadOf(mean: number, variance: number): number {
  const floor = LEAST_SPREAD * Math.abs(mean)
  return Math.max(variance, floor * floor, LEAST_VARIANCE)
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
  const count = known.depth + 1
  const seen = new Array<number>(count)
  for (let lesson: Knowledge = known; lesson !== null; lesson = lesson.before) seen[lesson.depth] = products[lesson.row]
  const along = new Array<number>(count)
  let variance = own
  for (let lesson: Knowledge = known; lesson !== null; lesson = lesson.before) {
    const sum = weighted(lesson.gain, seen)
    along[lesson.depth] = sum
    variance -= sum * sum
  }
  return { shift: weighted(known.shift, seen), variance: Math.max(variance, ROUNDING * own), along }
}

function weighted(weights: readonly number[], values: readonly number[]): number {
  let sum = 0
  for (let i = 0; i < weights.length; i++) sum += weights[i] * values[i]
  return sum
}

/**
 * Knowledge after the quantity `row` plus a fresh part was found as `found` says, in units of its standard deviation: exact for a
 * point, and by matched mean and variance for an interval or a side of a threshold.
 */
export function learn(known: Knowledge, row: number, { along }: Projection, totalVariance: number, found: Truncated): Lesson {
  const depth = along.length
  const step = found.mean / Math.sqrt(totalVariance)
  const scale = Math.sqrt(Math.max(1 - found.variance, 0) / totalVariance)
  const gain = new Array<number>(depth + 1).fill(0)
  for (let lesson = known; lesson !== null; lesson = lesson.before) {
    for (let j = 0; j <= lesson.depth; j++) gain[j] -= along[lesson.depth] * lesson.gain[j]
  }
  gain[depth] = 1
  const shift = new Array<number>(depth + 1)
  for (let j = 0; j <= depth; j++) {
    shift[j] = step * gain[j] + (known !== null && j < depth ? known.shift[j] : 0)
    gain[j] *= scale
  }
  return { before: known, depth, row, gain, shift }
}
