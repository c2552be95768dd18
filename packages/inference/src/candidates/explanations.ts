import { BestFirstSets, type Fan, type Growth, type Verdict, type WeightedSet } from './best-first.js'

/** What a thing made of parts lets be said about sets of faulty items, whatever it is. Items are numbers from 0. */
export interface ConsistencyModel {
  /** For each of `items`: do the faults of `set` and it explain what was seen? Asked for many at a time. */
  explains: (set: readonly number[], items: readonly number[]) => readonly boolean[]
  /**
   * Items of which one more at least is faulty if all of `set` are and the other settled ones are sound; none where that can not be;
   * undefined where the set explains what was seen. @param isSettled by item: 1 for the set and for those held to be sound
   */
  conflict: (set: readonly number[], isSettled: Uint8Array) => readonly number[] | undefined
}

export interface ExplanationOptions {
  /** Most items of a set; any number when left out. */
  readonly largest?: number
}

/**
 * The subset-minimal sets of faults that explain what was seen, by falling weight. Sets grow only by items of a conflict that they leave
 * open, and once an item was tried, sets beside it go without: none is met twice and none is missed.
 *
 * Source of conflicts and their hitting sets: R. Reiter, Artificial Intelligence 32 (1987) 57; J. de Kleer, B. C. Williams, ibid. 97;
 * the order is best first as in B. C. Williams, R. J. Ragno, Discrete Applied Mathematics 155 (2007) 1562; from memory.
 */
export class Explanations implements Iterable<WeightedSet> {
  private readonly sets: BestFirstSets | undefined
  private begun = false

  constructor(model: ConsistencyModel, weights: ArrayLike<number>, options: ExplanationOptions) {
    const growth = new ConflictGrowth(model, weights, options.largest ?? Number.POSITIVE_INFINITY)
    const list = growth.firstList()
    this.sets = list && new BestFirstSets(weights, growth, list)
  }

  /** The next set of at least this weight; undefined where there is none. The empty set alone where nothing is amiss. */
  next(atLeast = 0): WeightedSet | undefined {
    if (this.sets) return this.sets.next(atLeast)
    if (this.begun) return undefined
    this.begun = true
    return { items: [], weight: 1 }
  }

  *[Symbol.iterator](): Generator<WeightedSet> {
    for (let set = this.next(); set !== undefined; set = this.next()) yield set
  }
}

/**
 * Explanations of what was seen, best first.
 * @param weights by item: its odds, over 0 and under 1   @throws RangeError for others
 */
export function explanations(
  model: ConsistencyModel,
  weights: ArrayLike<number>,
  options: ExplanationOptions = {},
): Explanations {
  for (let item = 0; item < weights.length; item += 1) {
    if (!(weights[item] > 0 && weights[item] < 1))
      throw new RangeError(
        `item ${item} has the odds ${weights[item]}; for the smallest sets to come first they lie between 0 and 1`,
      )
  }
  return new Explanations(model, weights, options)
}

/** Any odds do where only the number of faults counts; a half keeps the products exact. */
const EQUAL_ODDS = 0.5

/** All explanations with the fewest faults (of minimum cardinality), each in rising order. @param items how many items there are */
export function smallestExplanations(model: ConsistencyModel, items: number, options: ExplanationOptions = {}): number[][] {
  const all = explanations(model, new Float64Array(items).fill(EQUAL_ODDS), options)
  const found: number[][] = []
  for (let set = all.next(), least = set?.weight; set !== undefined; set = all.next(least))
    found.push([...set.items].sort((p, q) => p - q))
  return found
}

/** Members of a fan that are tried together: a word of them. */
const BATCH = 32

class ConflictGrowth implements Growth {
  private readonly isSettled: Uint8Array
  private readonly heaviest: number
  /** By fan: which of its members explain, as far as they have been tried. */
  private readonly tried = new WeakMap<Fan, boolean[]>()
  /** Explanations given, by their least item. */
  private readonly given = new Map<number, (readonly number[])[]>()
  private smallest = Number.POSITIVE_INFINITY

  constructor(
    private readonly model: ConsistencyModel,
    private readonly weights: ArrayLike<number>,
    private readonly largest: number,
  ) {
    this.isSettled = new Uint8Array(weights.length)
    this.heaviest = Array.from(weights).reduce((most, weight) => Math.max(most, weight), 0)
  }

  firstList(): readonly number[] | undefined {
    const list = this.model.conflict([], this.isSettled)
    return list && this.largest > 0 ? this.sorted(list) : list && []
  }

  judge(fan: Fan, at: number): Verdict {
    const isGiven = this.explains(fan, at)
    const size = fan.set.length + 1
    if (size > this.smallest && this.isNeedless([...fan.set, fan.list[at]])) return { isGiven: false, grows: false }
    if (isGiven) this.note([...fan.set, fan.list[at]])
    return { isGiven, grows: !isGiven && size < this.largest }
  }

  private explains(fan: Fan, at: number): boolean {
    const tried = this.tried.get(fan) ?? []
    if (at >= tried.length) {
      const some = Array.from({ length: Math.min(BATCH, fan.list.length - at) }, (_, n) => fan.list[at + n])
      tried.push(...this.model.explains(fan.set, some))
      this.tried.set(fan, tried)
    }
    return tried[at]
  }

  /** Is there an explanation within the set already? */
  private isNeedless(set: readonly number[]): boolean {
    return set.some((item) => this.given.get(item)?.some((smaller) => smaller.every((one) => set.includes(one))))
  }

  private note(set: readonly number[]): void {
    const least = Math.min(...set)
    const beside = this.given.get(least)
    if (beside) beside.push(set)
    else this.given.set(least, [set])
    this.smallest = Math.min(this.smallest, set.length)
  }

  follow(fan: Fan, at: number): Pick<Fan, 'list' | 'from'> {
    const set = [...fan.set, fan.list[at]]
    const settled = [...set, ...soundBeside(fan, at)]
    for (const item of settled) this.isSettled[item] = 1
    const conflict = this.model.conflict(set, this.isSettled)
    for (const item of settled) this.isSettled[item] = 0
    return { list: this.sorted(conflict ?? []), from: 0 }
  }

  ceiling(): number {
    return this.heaviest
  }

  private sorted(items: readonly number[]): readonly number[] {
    return items.toSorted((p, q) => this.weights[q] - this.weights[p] || p - q)
  }
}

/** Items tried before a member in its fan and in those it grew from: sets with them are grown there. */
function soundBeside(fan: Fan, at: number): number[] {
  const found: number[] = []
  for (let here: Fan['parent'] = { fan, at }; here !== undefined; here = here.fan.parent) {
    for (let n = here.fan.from; n < here.at; n += 1) found.push(here.fan.list[n])
  }
  return found
}
