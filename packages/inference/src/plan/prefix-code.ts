/** Lower bounds on plans from codes: however good the tests are, telling things apart takes so many of them. */

/**
 * Expected word length of an optimal prefix code: the fewest tests that any plan needs on average to tell groups apart, when
 * a test has at most `arity` outcomes.
 * @param weights of the groups, > 0, in any unit   @param arity letters of the code, >= 2
 * @returns sum of weight times length, in the unit of the weights; 0 for one group
 * Source: D. A. Huffman, Proc. IRE 40 (1952), for k letters filled up with groups of weight zero.  Cost n log n.  Checked in
 * prefix-code.test.ts.
 */
export function prefixCodeLength(weights: readonly number[], arity: number): number {
  const leaves = Float64Array.from(weights).sort()
  const fill = (arity - 1 - ((leaves.length - 1) % (arity - 1))) % (arity - 1)
  // Sums are made in rising order, so a second queue is sorted by itself.
  const sums: number[] = []
  let [leaf, sum, length] = [0, 0, 0]
  const least = () => (sum < sums.length && (leaf >= leaves.length || sums[sum] < leaves[leaf]) ? sums[sum++] : leaves[leaf++])
  let left = leaves.length
  let take = arity - fill
  while (left > 1) {
    let merged = 0
    for (let i = 0; i < take; i++) merged += least()
    sums.push(merged)
    length += merged
    left -= take - 1
    take = arity
  }
  return length
}

/**
 * Least cost of a mean number of different tests: C(n) is the sum of the n cheapest, linear between whole numbers. C is
 * convex, so a plan that needs L tests on average costs at least C(L) on average (Jensen).
 * @param running sums of the n cheapest costs, `running[0]` = 0   @param number L, 0 to the number of tests
 */
export function leastCostOfTests(running: ArrayLike<number>, number: number): number {
  const whole = Math.min(Math.floor(number), running.length - 1)
  const next = Math.min(whole + 1, running.length - 1)
  return running[whole] + (number - whole) * (running[next] - running[whole])
}
