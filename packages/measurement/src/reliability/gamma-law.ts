/** The gamma law: distribution and quantile. */

import { solveRising } from './solve-rising.js'

// C. Lanczos, SIAM J. Numer. Anal. B 1 (1964), with g = 7 and nine terms; coefficients from memory, held in
// gamma-law.ref.test.ts.
const LANCZOS = [
  0.99999999999980993, 676.5203681218851, -1259.1392167224028, 771.32342877765313, -176.61502916214059, 12.507343278686905,
  -0.13857109526572012, 9.9843695780195716e-6, 1.5056327351493116e-7,
]
const LANCZOS_G = 7

/**
 * Natural logarithm of the gamma function.
 * @param x > 0   @returns within about 1e-14 of its size
 * Source: Lanczos 1964.  Checked in gamma-law.ref.test.ts.
 */
export function logGamma(x: number): number {
  if (x < 0.5) return Math.log(Math.PI / Math.sin(Math.PI * x)) - logGamma(1 - x)
  const z = x - 1
  const series = LANCZOS.reduce((sum, c, i) => (i === 0 ? c : sum + c / (z + i)), 0)
  const t = z + LANCZOS_G + 0.5
  return 0.5 * Math.log(2 * Math.PI) + (z + 0.5) * Math.log(t) - t + Math.log(series)
}

/** Sums and fractions end when a term changes nothing any more; so many terms mean a mistake. */
const TERMS = 100_000
const SMALL = 1e-300

/**
 * P(X <= x) and P(X > x) of the gamma law of a shape and unit rate, both with full relative precision in their tail.
 * @param shape > 0   @param x >= 0
 * Source: power series below shape + 1, continued fraction above (W. H. Press et al., Numerical Recipes, section 6.2, from
 * memory).
 */
export function gammaTails(shape: number, x: number): { below: number; above: number } {
  if (x <= 0) return { below: 0, above: 1 }
  const head = Math.exp(shape * Math.log(x) - x - logGamma(shape))
  if (x < shape + 1) {
    const below = head * series(shape, x)
    return { below, above: 1 - below }
  }
  const above = head * fraction(shape, x)
  return { below: 1 - above, above }
}

function series(shape: number, x: number): number {
  let term = 1 / shape
  let sum = term
  for (let n = 1; n < TERMS; n++) {
    term *= x / (shape + n)
    sum += term
    if (term < sum * Number.EPSILON) return sum
  }
  throw new RangeError(`the gamma law of shape ${shape} does not converge at ${x}`)
}

/** Lentz's way to a continued fraction. */
function fraction(shape: number, x: number): number {
  let b = x + 1 - shape
  let c = 1 / SMALL
  let d = 1 / b
  let h = d
  for (let n = 1; n < TERMS; n++) {
    const a = -n * (n - shape)
    b += 2
    d = 1 / nonZero(a * d + b)
    c = nonZero(b + a / c)
    h *= d * c
    if (Math.abs(d * c - 1) < 2 * Number.EPSILON) return h
  }
  throw new RangeError(`the gamma law of shape ${shape} does not converge at ${x}`)
}

const nonZero = (x: number): number => (Math.abs(x) < SMALL ? SMALL : x)

/**
 * Quantile of the gamma law of a shape and unit rate.
 * @param p probability, 0 to 1   @param shape > 0   @returns 0 at p = 0, Infinity at 1
 * Checked in gamma-law.ref.test.ts and by the `reliability` reference cases.
 */
export function gammaQuantile(p: number, shape: number): number {
  if (!(p >= 0 && p <= 1 && shape > 0)) throw new RangeError(`no quantile ${p} of a gamma law of shape ${shape}`)
  if (p === 0) return 0
  if (p === 1) return Number.POSITIVE_INFINITY
  // In ln x the law is smooth down to 0, whatever the shape; near 0, P = x^shape / Gamma(shape + 1).
  const start = p < 0.1 ? (Math.log(p) + logGamma(shape + 1)) / shape : Math.log(shape)
  const log = solveRising(p, start, (u) => {
    const x = Math.exp(u)
    return { ...gammaTails(shape, x), slope: Math.exp(shape * u - x - logGamma(shape)) }
  })
  return Math.exp(log)
}
