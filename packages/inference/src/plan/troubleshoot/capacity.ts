/** How much a test can tell at most. */

const ROUNDS = 12

/**
 * An upper bound on the capacity of a test as a channel from suspects to outcomes: no belief over the suspects makes it tell more.
 *     C <= max over s of sum over o of p(o|s) log2(p(o|s) / q(o)),  for any q
 * with a q improved by a few rounds of Blahut (1972) and Arimoto (1972), so that the bound is close.
 * @param columns chances [outcome][suspect]   @returns [bit]
 * Source: R. E. Blahut, IEEE Trans. IT-18 (1972), theorem 3 (the bound) ; from memory.  Checked in bound.prop.test.ts.
 */
export function capacityBound(columns: Float64Array, suspects: number, outcomes: number): number {
  const share = new Float64Array(suspects).fill(1 / suspects)
  const mixed = new Float64Array(outcomes)
  const told = new Float64Array(suspects)
  let least = Math.log2(outcomes)
  for (let round = 0; round < ROUNDS; round++) {
    mixed.fill(0)
    for (let o = 0; o < outcomes; o++) for (let s = 0; s < suspects; s++) mixed[o] += share[s] * columns[o * suspects + s]
    let most = 0
    let total = 0
    for (let s = 0; s < suspects; s++) {
      told[s] = divergence(columns, suspects, s, mixed)
      most = Math.max(most, told[s])
      share[s] *= 2 ** told[s]
      total += share[s]
    }
    least = Math.min(least, most)
    for (let s = 0; s < suspects; s++) share[s] /= total
  }
  return least
}

function divergence(columns: Float64Array, suspects: number, s: number, mixed: Float64Array): number {
  let bits = 0
  for (let o = 0; o < mixed.length; o++) {
    const chance = columns[o * suspects + s]
    if (chance > 0) bits += chance * Math.log2(chance / mixed[o])
  }
  return bits
}
