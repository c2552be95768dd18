import { ASSUMPTIONS } from '@halfsplit/core'
import type { Place } from './place.js'
import type { Subsets } from './subsets.js'

/** What it took to clear a suspect. */
export interface Clearing {
  repair: string
  /** Belief after the complaint alone. */
  before: number
  /** Belief after the complaint and `records` alone; after the complaint alone where there are none. */
  after: number
  /**
   * The fewest readings which, with the complaint and nothing else, bring the suspect to the threshold or below. Empty: the complaint alone
   * does. Undefined: no three do, or the search was cut short.
   */
  records?: readonly Place[]
  /** Every set up to the size looked at was weighed. */
  complete: boolean
}

/** Largest sets looked at. */
const MOST_RECORDS = 3
/** Beliefs worked out before the search gives up. */
const MOST_SUBSETS = 150

/**
 * The smallest set of readings that clears a suspect. Sets are tried by increasing size, within a size those first whose readings, each
 * alone, speak most against the suspect: the first set found is a smallest one. Cost: one belief for each set tried, at most 150.
 * @param places readings to choose from   @param threshold belief at or below which a suspect is cleared, 0 to 1
 */
export function clearing(
  subsets: Subsets,
  places: readonly Place[],
  repair: string,
  threshold: number = ASSUMPTIONS.clearedBelow,
): Clearing {
  const after = (some: readonly Place[]) => subsets.repairsAfter(some).get(repair) ?? 0
  const before = after([])
  if (before <= threshold) return { repair, before, after: before, records: [], complete: true }
  const strongestFirst = places
    .map((place) => ({ place, left: logOdds(after([place])) }))
    .sort((p, q) => p.left - q.left)
    .map(({ place }) => place)
  for (let size = 1; size <= Math.min(MOST_RECORDS, places.length); size += 1) {
    for (const set of setsOf(strongestFirst, size)) {
      if (subsets.weighed >= MOST_SUBSETS) return { repair, before, after: before, complete: false }
      const left = after(set)
      if (left <= threshold) return { repair, before, after: left, records: set, complete: true }
    }
  }
  return { repair, before, after: before, complete: true }
}

const logOdds = (p: number): number => Math.log(p / (1 - p))

/** Every set of so many of a list, sets of early members first. */
export function setsOf<T>(list: readonly T[], size: number): T[][] {
  const ranks: number[][] = []
  const choose = (from: number, chosen: number[]): void => {
    if (chosen.length === size) ranks.push(chosen)
    else for (let i = from; i < list.length; i += 1) choose(i + 1, [...chosen, i])
  }
  choose(0, [])
  const sum = (set: readonly number[]) => set.reduce((total, i) => total + i, 0)
  return ranks.sort((p, q) => sum(p) - sum(q)).map((set) => set.map((i) => list[i]))
}
