/** What may be wrong when several parts may be faulty at once, and the classic order of replacing parts one by one. */

/** One way the machine may be faulty: these parts, by number, with this weight. */
export interface FaultWorld {
  readonly faulty: readonly number[]
  readonly weight: number
}

/**
 * Every single fault, and up to `most` at once, singles first: the product of the priors of the faulty parts and of 1 - prior of
 * the sound ones, normalised over the list, so that something is wrong.
 * @param priors of the parts, 0 to 1, independent   @returns probabilities that sum to 1
 */
export function faultWorlds(priors: readonly number[], most: number): FaultWorld[] {
  const worlds = subsets(priors.length, most).map((faulty) => ({
    faulty,
    weight: priors.reduce((product, prior, part) => product * (faulty.includes(part) ? prior : 1 - prior), 1),
  }))
  const total = worlds.reduce((sum, { weight }) => sum + weight, 0)
  return worlds.map(({ faulty, weight }) => ({ faulty, weight: weight / total }))
}

/** Sets of 1 to `most` numbers below `count`, by size and then in order. */
function subsets(count: number, most: number): number[][] {
  let layer: number[][] = [[]]
  const found: number[][] = []
  for (let size = 1; size <= most; size++) {
    layer = layer.flatMap((set) => {
      const from = set.length === 0 ? 0 : set[set.length - 1] + 1
      return Array.from({ length: count - from }, (_, i) => [...set, from + i])
    })
    found.push(...layer)
  }
  return found
}

/**
 * A part that may be replaced: the probability that it is the one fault, and the cost of replacing it and of the check after
 * it.
 */
export interface ReplaceablePart {
  readonly id: string
  readonly probability: number
  readonly cost: number
}

/**
 * Parts by falling probability per cost: the cheapest order of replacing one after the other until the complaint is gone, for
 * one fault and costs that do not depend on the order. Ties go by id; the reverse order is the dearest.
 * Source: J. B. Kadane, H. A. Simon, Annals of Statistics 5 (1977); D. Heckerman, J. S. Breese, K. Rommelse, CACM 38(3)
 * (1995); from memory.  Checked in repair.test.ts.
 */
export function replacementOrder(parts: readonly ReplaceablePart[]): ReplaceablePart[] {
  return [...parts].sort((a, b) => b.probability * a.cost - a.probability * b.cost || (a.id < b.id ? -1 : a.id > b.id ? 1 : 0))
}

/**
 * Expected cost of replacing in the given order; probabilities in any one unit, the last part is paid for and checked like
 * the others.
 */
export function orderCost(parts: readonly ReplaceablePart[]): number {
  let left = parts.reduce((sum, { probability }) => sum + probability, 0)
  const total = left
  let cost = 0
  for (const part of parts) {
    cost += part.cost * left
    left -= part.probability
  }
  return cost / total
}
