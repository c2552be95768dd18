/** Flow balance of a network in its own terms: shares between nodes and what each node leaks to held ones. */
export interface FlowMatrix {
  /** `ij`: share of x_j in the balance of i; `ji`: share of x_i in the balance of j. */
  edges: { i: number; j: number; ij: number; ji: number }[]
  excess: number[]
}

export interface Fraction {
  over: bigint
  under: bigint
}

/**
 * Exact solution of J x = b (or J' x = b) for doubles, the diagonal summed exactly too: the judge of the floating-point one.
 * Fraction-free elimination over whole numbers: E. H. Bareiss, Mathematics of Computation 22 (1968) 565-578 (from memory).
 */
export function exactSolution({ edges, excess }: FlowMatrix, b: readonly number[], transposed = false): Fraction[] {
  const rows = excess.map((value, r) => [...excess.map((_, c) => (r === c ? whole(value) : 0n)), whole(b[r])])
  for (const { i, j, ij, ji } of edges) {
    rows[i][i] += whole(ji)
    rows[j][j] += whole(ij)
    const [p, q] = transposed ? [j, i] : [i, j]
    rows[p][q] -= whole(ij)
    rows[q][p] -= whole(ji)
  }
  let before = 1n
  for (let k = 0; k < b.length; k += 1) {
    const pivotRow = rows[k]
    for (const [i, row] of rows.entries()) {
      if (i !== k) rows[i] = row.map((value, c) => (pivotRow[k] * value - row[k] * pivotRow[c]) / before)
    }
    before = pivotRow[k]
  }
  return rows.map((row, i) => ({ over: row[b.length], under: row[i] }))
}

const BITS = 200

/** A double times 2^200: a whole number for every double above 1e-44. */
function whole(value: number): bigint {
  let scaled = value
  let shift = BITS
  while (!Number.isInteger(scaled)) {
    scaled *= 2
    shift -= 1
  }
  return BigInt(scaled) << BigInt(shift)
}

/** |value - exact| / |exact|; |value| where exactly zero is right. */
export function relativeError(value: number, { over, under }: Fraction): number {
  if (over === 0n) return Math.abs(value)
  const size = over << BigInt(BITS)
  const parts = ((whole(value) * under - size) * 10n ** 30n) / size
  return Math.abs(Number(parts)) / 1e30
}
