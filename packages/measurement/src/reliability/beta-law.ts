/** The beta law: distribution and quantile. */

import { logGamma } from './gamma-law.js'
import { solveRising } from './solve-rising.js'

const TERMS = 100_000
const SMALL = 1e-300

/** ln B(a, b). */
export const logBeta = (a: number, b: number): number => logGamma(a) + logGamma(b) - logGamma(a + b)

/**
 * P(X <= x) and P(X > x) of the beta law, each with full relative precision in its tail.
 * @param a @param b both > 0   @param x 0 to 1   @param rest 1 - x, given apart so that x near 1 loses nothing
 * Source: continued fraction (W. H. Press et al., Numerical Recipes, section 6.4, from memory).
 */
export function betaTails(a: number, b: number, x: number, rest = 1 - x): { below: number; above: number } {
  if (x <= 0) return { below: 0, above: 1 }
  if (rest <= 0) return { below: 1, above: 0 }
  const head = Math.exp(a * Math.log(x) + b * Math.log(rest) - logBeta(a, b))
  if (x < (a + 1) / (a + b + 2)) {
    const below = (head * fraction(a, b, x)) / a
    return { below, above: 1 - below }
  }
  const above = (head * fraction(b, a, rest)) / b
  return { below: 1 - above, above }
}

/** Lentz's way to the continued fraction of the incomplete beta function. */
function fraction(a: number, b: number, x: number): number {
  let c = 1
  let d = 1 / nonZero(1 - ((a + b) * x) / (a + 1))
  let h = d
  for (let m = 1; m < TERMS; m++) {
    const even = (m * (b - m) * x) / ((a + 2 * m - 1) * (a + 2 * m))
    const odd = (-(a + m) * (a + b + m) * x) / ((a + 2 * m) * (a + 2 * m + 1))
    for (const term of [even, odd]) {
      d = 1 / nonZero(1 + term * d)
      c = nonZero(1 + term / c)
      h *= d * c
    }
    if (Math.abs(d * c - 1) < 2 * Number.EPSILON) return h
  }
  throw new RangeError(`the beta law (${a}, ${b}) does not converge at ${x}`)
}

const nonZero = (x: number): number => (Math.abs(x) < SMALL ? SMALL : x)

/**
 * Quantile of the beta law.
 * @param p probability, 0 to 1   @param a @param b both > 0   @returns 0 to 1
 * Checked in beta-law.ref.test.ts and by the `reliability` reference cases.
 */
export function betaQuantile(p: number, a: number, b: number): number {
  if (!(p >= 0 && p <= 1 && a > 0 && b > 0)) throw new RangeError(`no quantile ${p} of a beta law (${a}, ${b})`)
  if (p === 0 || p === 1) return p
  // In the logit of x the law is smooth up to both ends, also where its density has no limit there.
  const logit = solveRising(p, Math.log(a / b), (u) => {
    const [x, rest] = [1 / (1 + Math.exp(-u)), 1 / (1 + Math.exp(u))]
    return { ...betaTails(a, b, x, rest), slope: Math.exp(a * Math.log(x) + b * Math.log(rest) - logBeta(a, b)) }
  })
  return 1 / (1 + Math.exp(-logit))
}
