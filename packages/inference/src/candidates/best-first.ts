/**
 * Sets of items, best first: the generator under all candidates. Sets are grown an item at a time; those that grow from one set by one
 * item more stand in a *fan*, by falling weight, and a heap holds two marks a fan: the next member to look at, and the next member to
 * grow. So nothing is made before its turn, and a set in one way only.
 */

import { Heap } from './heap.js'

/** A set of items and its weight: the product of the weights of its items, over that of the empty set. */
export interface WeightedSet {
  readonly items: readonly number[]
  readonly weight: number
}

/** The sets that have one item of `list`, from position `from` on, more than `set`. */
export interface Fan {
  readonly set: readonly number[]
  readonly weight: number
  /** Items by falling weight. */
  readonly list: ArrayLike<number>
  readonly from: number
  /** The fan and position this one grew from. */
  readonly parent?: { readonly fan: Fan; readonly at: number }
}

/** What becomes of one member of a fan. */
export interface Verdict {
  /** It is one of those asked for. */
  readonly isGiven: boolean
  /** So may be sets with more items. */
  readonly grows: boolean
}

export interface Growth {
  /** Asked once for each member, in their order. */
  judge: (fan: Fan, at: number) => Verdict
  /** Items that may follow a member that grows, by falling weight, and where to begin. Each set must be reached in one way only. */
  follow: (fan: Fan, at: number) => Pick<Fan, 'list' | 'from'>
  /** At least the weight of the first item that `follow` will tell; not rising along a fan. */
  ceiling: (fan: Fan, at: number) => number
}

/** A mark on a fan in the heap; `weight` and `size` are those of the best set that can come of it. */
interface Mark {
  weight: number
  readonly size: number
  readonly fan: Fan
  at: number
  /** Members that wait to be grown; undefined for the mark of the next member to look at. */
  readonly waiting?: number[]
  /** For the mark of the next member: the one that grows. */
  readonly growing?: Mark
}

/** Sets by falling weight; of equal weight smaller ones first, then by the order of their items. No weight may be over 1. */
export class BestFirstSets {
  private readonly marks = new Heap<Mark>(comesFirst)

  constructor(
    private readonly weights: ArrayLike<number>,
    private readonly growth: Growth,
    list: ArrayLike<number>,
  ) {
    this.open({ set: [], weight: 1, list, from: 0 })
  }

  /** The next set of at least this weight; undefined where there is none. */
  next(atLeast = 0): WeightedSet | undefined {
    for (;;) {
      const { top } = this.marks
      if (top === undefined || top.weight < atLeast) return undefined
      if (top.waiting) this.grow(top, top.waiting)
      else {
        const found = this.look(top)
        if (found) return found
      }
    }
  }

  /** All that has not been looked at yet: sets with one item at least of a fan's list from a position on. */
  *ahead(): Generator<Fan> {
    for (const { fan, at, waiting } of this.marks.all) {
      if (waiting === undefined) yield { ...fan, from: at }
      else
        for (const member of waiting.slice(at))
          yield { ...memberOf(fan, member, this.weights), ...this.growth.follow(fan, member) }
    }
  }

  private open(fan: Fan): void {
    if (fan.from >= fan.list.length) return
    const { length } = fan.set
    const growing: Mark = { weight: 0, size: length + 2, fan, at: 0, waiting: [] }
    this.marks.push({ weight: this.weightAt(fan, fan.from), size: length + 1, fan, at: fan.from, growing })
  }

  private weightAt(fan: Fan, at: number): number {
    return fan.weight * this.weights[fan.list[at]]
  }

  private look(mark: Mark): WeightedSet | undefined {
    const { fan, at, weight, growing } = mark
    const { isGiven, grows } = this.growth.judge(fan, at)
    mark.at += 1
    if (mark.at < fan.list.length) {
      mark.weight = this.weightAt(fan, mark.at)
      this.marks.renew()
    } else this.marks.pop()
    if (grows) this.await(growing as Mark, at)
    return isGiven ? { items: [...fan.set, fan.list[at]], weight } : undefined
  }

  private await(growing: Mark, member: number): void {
    const waiting = growing.waiting as number[]
    waiting.push(member)
    if (growing.at < waiting.length - 1) return
    growing.weight = this.ceilingAt(growing.fan, member)
    this.marks.push(growing)
  }

  private ceilingAt(fan: Fan, at: number): number {
    return this.weightAt(fan, at) * this.growth.ceiling(fan, at)
  }

  private grow(mark: Mark, waiting: readonly number[]): void {
    const { fan } = mark
    const at = waiting[mark.at]
    mark.at += 1
    if (mark.at < waiting.length) {
      mark.weight = this.ceilingAt(fan, waiting[mark.at])
      this.marks.renew()
    } else this.marks.pop()
    this.open({ ...memberOf(fan, at, this.weights), ...this.growth.follow(fan, at), parent: { fan, at } })
  }
}

function memberOf({ set, weight, list }: Fan, at: number, weights: ArrayLike<number>): Pick<Fan, 'set' | 'weight'> {
  return { set: [...set, list[at]], weight: weight * weights[list[at]] }
}

/** The item by which the set of a mark goes on from that of its fan. */
const itemOf = ({ fan, at, waiting }: Mark): number => fan.list[waiting ? waiting[at] : at]

function comesFirst(one: Mark, other: Mark): boolean {
  if (one.weight !== other.weight) return one.weight > other.weight
  if (one.size !== other.size) return one.size < other.size
  if (one.fan === other.fan) return one.at < other.at
  const p = one.fan.set
  const q = other.fan.set
  for (let n = 0; n < p.length && n < q.length; n += 1) if (p[n] !== q[n]) return p[n] < q[n]
  return (p.length > q.length ? p[q.length] : itemOf(one)) < (q.length > p.length ? q[p.length] : itemOf(other))
}
