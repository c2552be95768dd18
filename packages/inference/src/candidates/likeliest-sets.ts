import { BestFirstSets, type Growth, type WeightedSet } from './best-first.js'

export interface SetOptions {
  /** By item: its group, a number; at most one item of a group is in a set (two failure modes of one part). Each its own when left out. */
  readonly groups?: ArrayLike<number>
  /** Whether a set is possible; where it is not, no set with more items may be. */
  readonly allowed?: (items: readonly number[]) => boolean
  /** Most items of a set. */
  readonly largest?: number
}

/** Items of a set that differ from its likeliest choices: an item comes in, one goes out, or both, in one group. */
interface Deviations {
  /** By deviation: its weight over that of the likeliest choice of its group, at most 1 and falling. */
  readonly ratio: Float64Array
  readonly group: Int32Array
  /** The item that comes in and the one that goes out; -1 for none. */
  readonly comes: Int32Array
  readonly goes: Int32Array
}

/**
 * All sets of independent items by falling weight, one at a time, with what they weigh in all and what those not yet given weigh.
 * A set is told by its items in rising order; its weight is the product of their odds, the empty set's being 1.
 */
export class LikeliestSets implements Iterable<WeightedSet> {
  /** Weight of all sets: the product over the groups of 1 + the sum of their odds. An upper bound where `allowed` rules sets out. */
  readonly total: number
  private readonly base: readonly number[]
  private readonly baseWeight: number
  private readonly deviations: Deviations
  private readonly sets: BestFirstSets
  private readonly tail: Tail
  private readonly largest: number
  private begun = false
  /** Weight of the sets that are too large, over the base's: of those already met on the way. */
  private tooLarge = 0

  constructor(
    weights: ArrayLike<number>,
    private readonly options: SetOptions,
  ) {
    this.largest = options.largest ?? Number.POSITIVE_INFINITY
    const groups = groupsOf(weights, options.groups)
    this.total = groups.reduce((product, items) => product * (1 + items.reduce((sum, item) => sum + weights[item], 0)), 1)
    const likeliest = groups.map((items) =>
      items.reduce((best, item) => (weights[item] > weightOr1(weights, best) ? item : best), -1),
    )
    this.base = likeliest.filter((item) => item >= 0).sort((p, q) => p - q)
    this.baseWeight = this.base.reduce((product, item) => product * weights[item], 1)
    this.deviations = deviationsOf(weights, groups, likeliest)
    this.tail = new Tail(this.deviations, groups.length)
    const list = Array.from(this.deviations.ratio, (_, n) => n)
    this.sets = new BestFirstSets(this.deviations.ratio, this.growth(), list)
  }

  /** The next set of at least this weight; undefined where there is none. */
  next(atLeast = 0): WeightedSet | undefined {
    if (!this.begun) {
      if (this.baseWeight < atLeast) return undefined
      this.begun = true
      if (this.isAllowed(this.base) && this.fits(this.base, 1)) return { items: this.base, weight: this.baseWeight }
    }
    const found = this.sets.next(atLeast / this.baseWeight)
    return found && { items: this.itemsOf(found.items), weight: found.weight * this.baseWeight }
  }

  *[Symbol.iterator](): Generator<WeightedSet> {
    for (let set = this.next(); set !== undefined; set = this.next()) yield set
  }

  /**
   * Weight of all sets not given yet, a sum of what is still ahead: nothing is taken away from anything, so it is as exact when it is
   * tiny. Those too large count; those that `allowed` would rule out count until they are met. Cost: linear in the sets given.
   */
  leftOut(): number {
    let sum = this.tooLarge + (this.begun ? 0 : 1)
    for (const { set, weight, from } of this.sets.ahead()) sum += weight * this.tail.weight(set, from)
    return sum * this.baseWeight
  }

  private isAllowed(items: readonly number[]): boolean {
    return this.options.allowed === undefined || this.options.allowed(items)
  }

  /** Whether a set is small enough; its weight, over the base's, is noted where it is not. */
  private fits(items: readonly number[], weight: number): boolean {
    const fits = items.length <= this.largest
    if (!fits) this.tooLarge += weight
    return fits
  }

  private itemsOf(deviations: readonly number[]): readonly number[] {
    const { comes, goes } = this.deviations
    const gone = new Set(deviations.map((n) => goes[n]))
    const come = deviations.map((n) => comes[n]).filter((item) => item >= 0)
    return [...this.base.filter((item) => !gone.has(item)), ...come].sort((p, q) => p - q)
  }

  private growth(): Growth {
    const { group, ratio } = this.deviations
    // Where items may go out of a set, a set that is not possible can still grow to one that is.
    const onlyComes = this.base.length === 0
    return {
      judge: ({ set, weight, list }, at) => {
        if (set.some((n) => group[n] === group[at])) return NEITHER
        const deviations = [...set, list[at]]
        const items = this.itemsOf(deviations)
        const isAllowed = this.isAllowed(items)
        if (onlyComes && !isAllowed) return NEITHER
        const own = weight * ratio[at]
        const isGiven = isAllowed && this.fits(items, own)
        const grows = !onlyComes || deviations.length < this.largest
        if (!grows) this.tooLarge += own * this.tail.weight(deviations, at + 1)
        return { isGiven, grows }
      },
      follow: ({ list }, at) => ({ list, from: at + 1 }),
      ceiling: (_, at) => ratio[at + 1] ?? 0,
    }
  }
}

const NEITHER = { isGiven: false, grows: false }

/**
 * Sets of any size from independent items, in falling weight, lazily.
 * @param weights by item: its odds, p/(1 - p), >= 0 and finite; one over 1 is in the likeliest sets
 * @returns equal weights by the number of items, then by the items of most weight; a set in two orders never
 * Three thousand items: a thousand sets in some milliseconds.  @throws RangeError for odds that are none
 */
export const likeliestSets = (weights: ArrayLike<number>, options: SetOptions = {}): LikeliestSets =>
  new LikeliestSets(weights, options)

const weightOr1 = (weights: ArrayLike<number>, item: number): number => (item < 0 ? 1 : weights[item])

function groupsOf(weights: ArrayLike<number>, groups: ArrayLike<number> | undefined): number[][] {
  const found = new Map<number, number[]>()
  for (let item = 0; item < weights.length; item += 1) {
    if (!(weights[item] >= 0 && weights[item] < Number.POSITIVE_INFINITY))
      throw new RangeError(`item ${item} has the odds ${weights[item]}; odds are finite and not negative`)
    const group = groups ? groups[item] : item
    const members = found.get(group)
    if (members) members.push(item)
    else found.set(group, [item])
  }
  return [...found.values()]
}

function deviationsOf(weights: ArrayLike<number>, groups: readonly number[][], likeliest: readonly number[]): Deviations {
  const all = groups.flatMap((items, group) => {
    const goes = likeliest[group]
    const others = goes < 0 ? items : [-1, ...items.filter((item) => item !== goes)]
    return others.map((comes) => ({ ratio: weightOr1(weights, comes) / weightOr1(weights, goes), group, comes, goes }))
  })
  const firstItem = ({ comes, goes }: (typeof all)[number]) => (comes < 0 ? goes : comes)
  const sorted = all.filter(({ ratio }) => ratio > 0).sort((p, q) => q.ratio - p.ratio || firstItem(p) - firstItem(q))
  return {
    ratio: Float64Array.from(sorted, ({ ratio }) => ratio),
    group: Int32Array.from(sorted, ({ group }) => group),
    comes: Int32Array.from(sorted, ({ comes }) => comes),
    goes: Int32Array.from(sorted, ({ goes }) => goes),
  }
}

/** What all sets of deviations from a position on weigh together. */
class Tail {
  /** By position: logarithm of the product over the groups of 1 + the sum of their ratios from there on. */
  private readonly log: Float64Array
  /** By deviation: the sum of its group's ratios from it on. */
  private readonly sum: Float64Array
  /** By group: its deviations, in rising order. */
  private readonly members: number[][]
  private readonly group: Int32Array

  constructor({ ratio, group }: Deviations, groups: number) {
    const { length } = ratio
    this.group = group
    this.log = new Float64Array(length + 1)
    this.sum = new Float64Array(length)
    this.members = Array.from({ length: groups }, () => [])
    group.forEach((of, n) => this.members[of].push(n))
    const later = new Float64Array(groups)
    for (let n = length - 1; n >= 0; n -= 1) {
      // log(1 + later + ratio) - log(1 + later), without a difference of near equals
      this.log[n] = this.log[n + 1] + Math.log1p(ratio[n] / (1 + later[group[n]]))
      later[group[n]] += ratio[n]
      this.sum[n] = later[group[n]]
    }
  }

  /** Of all sets but the empty one, of deviations from `from` on in groups where `set` has none. */
  weight(set: readonly number[], from: number): number {
    let log = this.log[from]
    for (const one of set) {
      const next = this.members[this.group[one]].find((n) => n >= from)
      if (next !== undefined) log -= Math.log1p(this.sum[next])
    }
    return Math.max(0, Math.expm1(log))
  }
}
