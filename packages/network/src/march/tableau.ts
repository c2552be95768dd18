/**
 * ESDIRK4(3)6L[2]SA: six stages, the first explicit, one diagonal value, fourth order, stiffly accurate and L-stable, with an embedded
 * third-order result for the error.
 * Source: C. A. Kennedy, M. H. Carpenter, Applied Numerical Mathematics 44 (2003) 139-181, the implicit part of ARK4(3)6L[2]SA (from
 * memory; the order conditions, the row sums and the decay at infinity are checked in tableau.test.ts).
 */
export const GAMMA = 1 / 4

/** Below the diagonal; row 5 is also the result. */
export const A: readonly (readonly number[])[] = [
  [],
  [1 / 4],
  [8611 / 62500, -1743 / 31250],
  [5012029 / 34652500, -654441 / 2922500, 174375 / 388108],
  [15267082809 / 155376265600, -71443401 / 120774400, 730878875 / 902184768, 2285395 / 8070912],
  [82889 / 524892, 0, 15625 / 83664, 69875 / 102672, -2260 / 8211],
]

export const C: readonly number[] = [0, 1 / 2, 83 / 250, 31 / 50, 17 / 20, 1]

export const B: readonly number[] = [82889 / 524892, 0, 15625 / 83664, 69875 / 102672, -2260 / 8211, 1 / 4]

/** Third-order weights. */
export const EMBEDDED: readonly number[] = [
  4586570599 / 29645900160,
  0,
  178811875 / 945068544,
  814220225 / 1159782912,
  -3700637 / 11593932,
  61727 / 225920,
]

export const STAGES = 6
