/** Are two suppliers alike? Exact tests of small tables, in whole numbers throughout. */

/** A table with fixed margins: the number of ways in which it comes about. */
type Ways = bigint

/**
 * Probability of a table no more probable than the one seen, all margins given: Fisher's exact test and its extension to more
 * rows and columns. Compared in whole numbers, so that equal probabilities are equal.
 * @param table counts, rows by columns   @returns 0 to 1 Cost: goes with the number of tables of the same margins.
 * Source: R. A. Fisher, Statistical Methods for Research Workers; G. H. Freeman, J. H. Halton, Biometrika 38 (1951); from
 * memory. Checked in the `reliability` reference cases.
 */
export function exactTableTest(table: readonly (readonly number[])[]): number {
  const rows = table.map((row) => sum(row))
  const columns = table[0].map((_, j) => sum(table.map((row) => row[j])))
  const seen = table.reduce((product, row) => product * waysOfRow(row), 1n)
  let [all, extreme] = [0n, 0n]
  const fill = (at: number, left: readonly number[], ways: Ways): void => {
    if (at === rows.length) {
      all += ways
      if (ways <= seen) extreme += ways
      return
    }
    for (const row of rowsOf(rows[at], left))
      fill(
        at + 1,
        left.map((count, j) => count - row[j]),
        ways * waysOfRow(row),
      )
  }
  fill(0, columns, 1n)
  return ratio(extreme, all)
}

/** The three answers of Fisher's test for two rows of failed and good. */
export interface FisherTest {
  /** No difference, against any. */
  readonly twoSided: number
  /** No difference, against the first failing more; the table seen counts. */
  readonly firstFailsMore: number
  readonly firstFailsLess: number
  /** (a d)/(b c), or null where b c = 0. */
  readonly sampleOddsRatio: number | null
}

/** Fisher's exact test of a two by two table, rows suppliers, columns failed and good. */
export function fisherTest(table: readonly [readonly [number, number], readonly [number, number]]): FisherTest {
  const [[a, b], [c, d]] = table
  const failed = a + c
  const waysOf = (x: number): Ways => choose(a + b, x) * choose(c + d, failed - x)
  const counts = Array.from({ length: failed + 1 }, (_, x) => x)
  const total = choose(a + b + c + d, failed)
  const chance = (of: (x: number) => boolean) =>
    ratio(
      counts.filter(of).reduce((ways, x) => ways + waysOf(x), 0n),
      total,
    )
  return {
    twoSided: exactTableTest(table),
    firstFailsMore: chance((x) => x >= a),
    firstFailsLess: chance((x) => x <= a),
    sampleOddsRatio: b * c === 0 ? null : (a * d) / (b * c),
  }
}

/** All rows of whole numbers with a sum, none above what is left in its column. */
function* rowsOf(total: number, left: readonly number[]): Generator<number[]> {
  const [first, ...others] = left
  if (others.length === 0) {
    if (total <= first) yield [total]
    return
  }
  for (let count = 0; count <= Math.min(total, first); count++)
    for (const rest of rowsOf(total - count, others)) yield [count, ...rest]
}

/** Multinomial coefficient of a row. */
function waysOfRow(row: readonly number[]): Ways {
  let [ways, left] = [1n, sum(row)]
  for (const count of row) {
    ways *= choose(left, count)
    left -= count
  }
  return ways
}

function choose(n: number, k: number): bigint {
  if (k < 0 || k > n) return 0n
  let result = 1n
  for (let i = 1; i <= Math.min(k, n - k); i++) result = (result * BigInt(n - i + 1)) / BigInt(i)
  return result
}

const sum = (numbers: readonly number[]): number => numbers.reduce((total, one) => total + one, 0)

/** The quotient of two whole numbers however large, to the precision of a number: scaled up to 64 bits first. */
function ratio(part: bigint, whole: bigint): number {
  if (part === 0n) return 0
  const shift = 64 + whole.toString(2).length - part.toString(2).length
  return Number((part << BigInt(shift)) / whole) * 2 ** -shift
}
