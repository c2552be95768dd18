/** Student's law: how far the mean of few readings may lie from the true one. */

import type { Interval } from '../interval.js'
import { betaQuantile } from './beta-law.js'

/**
 * Quantile of Student's law.
 *     t² = f · (1 − x)/x,  x the quantile of beta(f/2, 1/2) at twice the tail
 * @param p probability, 0 < p < 1   @param degrees of freedom f, > 0
 * Source: M. Abramowitz, I. Stegun, 26.5.27 (from memory).  Checked in student-law.ref.test.ts.
 */
export function studentQuantile(p: number, degrees: number): number {
  if (p === 0.5) return 0
  const x = betaQuantile(2 * Math.min(p, 1 - p), degrees / 2, 0.5)
  return Math.sign(p - 0.5) * Math.sqrt((degrees * (1 - x)) / x)
}

/**
 * Confidence interval of a mean from the standard deviation of its readings, mean ± t · s/sqrt(n).
 * @param sd with divisor n - 1, in the unit of the mean   @param number of readings, >= 2   @param level confidence, as 0.95
 */
export function meanInterval(mean: number, sd: number, number: number, level: number): Interval {
  const half = (studentQuantile((1 + level) / 2, number - 1) * sd) / Math.sqrt(number)
  return { low: mean - half, high: mean + half }
}
