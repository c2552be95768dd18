/** Neighbouring outcomes taken together where they say the same. */

export interface Merged {
  /** First fine outcome of each kept one, rising; the first is 0. */
  first: number[]
  /** What the kept outcomes tell about the class [bit]. */
  information: number
}

/** Share of the information that merging may lose, and bits that are nothing in any case. */
const LOSS = 0.04
const NO_BITS = 1e-3

/**
 * Merges neighbouring outcomes, those first that lose least of what they tell about the class, until the loss would be felt; at most
 * `most` are left. Joint probabilities are merged, so what is left is exact.
 * @param joint probability by fine outcome and class [outcome][class]
 */
export function mergeOutcomes(joint: readonly Float64Array[], most: number): Merged {
  const groups = joint.map((row, at) => ({ first: at, row: Float64Array.from(row), value: told(row) }))
  const whole = Float64Array.from(joint[0], (_, c) => joint.reduce((sum, row) => sum + row[c], 0))
  const before = told(whole)
  let information = groups.reduce((sum, { value }) => sum + value, 0) - before
  const allowed = Math.max(LOSS * information, NO_BITS)
  const losses = groups.slice(1).map((group, i) => lossOf(groups[i], group))
  let lost = 0
  while (groups.length > 1) {
    const at = losses.indexOf(Math.min(...losses))
    if (groups.length <= most && lost + losses[at] > allowed) break
    lost += losses[at]
    const row = groups[at].row.map((one, c) => one + groups[at + 1].row[c])
    groups.splice(at, 2, { first: groups[at].first, row, value: told(row) })
    losses.splice(at, 1)
    if (at > 0) losses[at - 1] = lossOf(groups[at - 1], groups[at])
    if (at < groups.length - 1) losses[at] = lossOf(groups[at], groups[at + 1])
  }
  information = Math.max(0, groups.reduce((sum, { value }) => sum + value, 0) - before)
  return { first: groups.map(({ first }) => first), information }
}

const lossOf = (one: { row: Float64Array; value: number }, other: { row: Float64Array; value: number }): number =>
  one.value + other.value - told(one.row.map((value, c) => value + other.row[c]))

/** Sum of x log2 x over the classes, less that of their sum: what an outcome adds to the information. */
function told(row: Float64Array): number {
  let sum = 0
  let whole = 0
  for (const one of row) {
    whole += one
    if (one > 0) sum += one * Math.log2(one)
  }
  return whole > 0 ? sum - whole * Math.log2(whole) : 0
}
