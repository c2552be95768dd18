/** Linear least squares with as many unknowns as a bath has knots. */

/** Solution of a fit, and what is known of its unknowns. */
export interface Fit {
  readonly solution: number[]
  /** Standard deviation of the residuals, with as many degrees of freedom as values less unknowns. */
  readonly residualSd: number
  /** Standard uncertainty of a weighted sum of the unknowns. */
  readonly uncertaintyOf: (weights: readonly number[]) => number
}

/**
 * Fits values by rows · unknowns, all of equal precision, by the normal equations and Cholesky's factors.
 * @param rows a row of coefficients for each value; the columns must be independent
 * Throws a RangeError where the rows leave an unknown open.  Checked in least-squares.test.ts.
 */
export function leastSquares(rows: readonly (readonly number[])[], values: readonly number[]): Fit {
  const unknowns = rows[0].length
  if (rows.length <= unknowns) throw new RangeError(`${rows.length} values are too few for ${unknowns} unknowns`)
  const normal = Array.from({ length: unknowns }, () => new Array<number>(unknowns).fill(0))
  const right = new Array<number>(unknowns).fill(0)
  for (const [n, row] of rows.entries())
    for (let i = 0; i < unknowns; i++) {
      right[i] += row[i] * values[n]
      for (let j = 0; j <= i; j++) normal[i][j] += row[i] * row[j]
    }
  const factor = cholesky(normal)
  const solution = backward(factor, forward(factor, right))
  const squares = rows.reduce((sum, row, n) => sum + (values[n] - dot(row, solution)) ** 2, 0)
  const residualSd = Math.sqrt(squares / (rows.length - unknowns))
  return { solution, residualSd, uncertaintyOf: (weights) => residualSd * Math.hypot(...forward(factor, weights)) }
}

function cholesky(matrix: readonly (readonly number[])[]): number[][] {
  const factor: number[][] = []
  for (const [i, row] of matrix.entries()) {
    factor.push([])
    for (let j = 0; j <= i; j++) {
      const rest = row[j] - dot(factor[i].slice(0, j), factor[j])
      if (i === j && !(rest > 1e-12 * row[i])) throw new RangeError(`the values leave unknown number ${i + 1} open`)
      factor[i].push(i === j ? Math.sqrt(rest) : rest / factor[j][j])
    }
  }
  return factor
}

/** L y = right. */
function forward(factor: readonly (readonly number[])[], right: readonly number[]): number[] {
  const y: number[] = []
  for (const [i, row] of factor.entries()) y.push((right[i] - dot(y, row)) / row[i])
  return y
}

/** L' x = y. */
function backward(factor: readonly (readonly number[])[], y: readonly number[]): number[] {
  const x = [...y]
  for (let i = x.length - 1; i >= 0; i--) {
    x[i] /= factor[i][i]
    for (let j = 0; j < i; j++) x[j] -= factor[i][j] * x[i]
  }
  return x
}

/** Sum of products over the shorter of the two. */
function dot(one: readonly number[], other: readonly number[]): number {
  let sum = 0
  for (let i = 0; i < Math.min(one.length, other.length); i++) sum += one[i] * other[i]
  return sum
}
