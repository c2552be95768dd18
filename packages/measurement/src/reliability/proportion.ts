/** Proportions from counts: one proportion, and shares of several kinds. */

import type { Interval } from '../interval.js'
import { betaQuantile } from './beta-law.js'

/**
 * Central interval of a proportion by Jeffreys' prior, beta(x + 1/2, n - x + 1/2), without the mending of its ends.
 * @param failures x, 0 to n   @param number n   @param level probability inside, as 0.95
 */
export function jeffreysCentral(failures: number, number: number, level: number): Interval {
  requireCounts(failures, number)
  const [a, b] = [failures + 0.5, number - failures + 0.5]
  const tail = (1 - level) / 2
  return { low: betaQuantile(tail, a, b), high: betaQuantile(1 - tail, a, b) }
}

/**
 * Jeffreys' interval: the central one, its lower limit 0 where nothing failed and its upper one 1 where everything did.
 * Source: L. D. Brown, T. T. Cai, A. DasGupta, Statistical Science 16 (2001); from memory.  Checked in the `reliability`
 * reference cases.
 */
export function jeffreysInterval(failures: number, number: number, level: number): Interval {
  const { low, high } = jeffreysCentral(failures, number, level)
  return { low: failures === 0 ? 0 : low, high: failures === number ? 1 : high }
}

/** Mean of a proportion by Jeffreys' prior. */
export const jeffreysMean = (failures: number, number: number): number => (failures + 0.5) / (number + 1)

/**
 * Exact interval of a proportion: never less sure than the level, often surer.
 * @param failures x, 0 to n   @param number n, >= 1   @param level confidence, as 0.95
 * Source: C. J. Clopper, E. S. Pearson, Biometrika 26 (1934); from memory.  Checked in the `reliability` reference cases.
 */
export function clopperPearson(failures: number, number: number, level: number): Interval {
  requireCounts(failures, number)
  const tail = (1 - level) / 2
  return {
    low: failures === 0 ? 0 : betaQuantile(tail, failures, number - failures + 1),
    high: failures === number ? 1 : betaQuantile(1 - tail, failures + 1, number - failures),
  }
}

function requireCounts(failures: number, number: number): void {
  if (!(failures >= 0 && failures <= number))
    throw new RangeError(`${failures} failed of ${number}: a count lies between 0 and the number`)
}

/** What is known of one kind's share: beta law. */
export interface Share {
  readonly mean: number
  readonly sd: number
  readonly interval: Interval
}

/**
 * Shares of several kinds after a count of each: Dirichlet law, whose marginals are beta.
 * @param weights of the law by kind, prior plus count, > 0   @param level of the central intervals, as 0.95
 */
export function dirichletShares(weights: readonly number[], level: number): Share[] {
  const total = weights.reduce((sum, weight) => sum + weight, 0)
  const tail = (1 - level) / 2
  return weights.map((weight) => {
    const rest = total - weight
    const limits =
      rest === 0 ? { low: 1, high: 1 } : { low: betaQuantile(tail, weight, rest), high: betaQuantile(1 - tail, weight, rest) }
    return { mean: weight / total, sd: Math.sqrt((weight * rest) / (total + 1)) / total, interval: limits }
  })
}
