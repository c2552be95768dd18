/** Failure rates from counts: gamma law for the rate, Poisson law for the failures. */

import type { Interval } from '../interval.js'
import { gammaQuantile, logGamma } from './gamma-law.js'

/** Knowledge of a rate: gamma law with a shape and a rate parameter, which counts like exposure seen [km, hours, years]. */
export interface RateKnowledge {
  readonly shape: number
  readonly exposure: number
}

/** Jeffreys' prior for a Poisson rate: half a failure in no exposure. */
export const JEFFREYS_RATE: RateKnowledge = { shape: 0.5, exposure: 0 }

/**
 * Knowledge of a rate after failures were counted. A sum of fault probabilities instead of a count is a plug-in, not an exact
 * update.
 * @param failures >= 0   @param exposure in which they were counted, >= 0, in the unit of the prior Throws a RangeError where
 * nothing is known at all. Source: conjugate gamma law, standard.  Checked in the `reliability` reference cases.
 */
export function updateRate(prior: RateKnowledge, failures: number, exposure: number): RateKnowledge {
  const known = { shape: prior.shape + failures, exposure: prior.exposure + exposure }
  if (!(failures >= 0 && exposure >= 0 && known.shape > 0 && known.exposure > 0))
    throw new RangeError(`no rate from ${failures} failures in ${exposure} on a prior of ${prior.shape} in ${prior.exposure}`)
  return known
}

/** Mean and standard deviation of a rate [1/exposure]. */
export function rateMoments({ shape, exposure }: RateKnowledge): { mean: number; sd: number } {
  return { mean: shape / exposure, sd: Math.sqrt(shape) / exposure }
}

/** The rate [1/exposure] that the true one does not exceed with probability p. */
export const rateQuantile = ({ shape, exposure }: RateKnowledge, p: number): number => gammaQuantile(p, shape) / exposure

/**
 * Probability of exactly so many failures in a coming exposure: negative binomial.
 * @param next exposure to come, >= 0   @param count whole, >= 0
 */
export function chanceOfCount({ shape, exposure }: RateKnowledge, next: number, count: number): number {
  const none = -shape * Math.log1p(next / exposure)
  if (count === 0) return Math.exp(none)
  const ways = logGamma(shape + count) - logGamma(shape) - logGamma(count + 1)
  return Math.exp(ways + none + count * Math.log(next / (next + exposure)))
}

/** Probability of one failure or more in a coming exposure, 1 - (1 + next/exposure)^-shape. */
export function chanceOfFailure({ shape, exposure }: RateKnowledge, next: number): number {
  return -Math.expm1(-shape * Math.log1p(next / exposure))
}

/**
 * Exact confidence interval of a Poisson rate, from the count alone.
 * @param failures whole, >= 0; with none the lower limit is 0   @param exposure > 0   @param level confidence, as 0.95
 * Source: F. Garwood, Biometrika 28 (1936), chi-square limits; from memory.  Checked in the `reliability` reference cases.
 */
export function garwoodInterval(failures: number, exposure: number, level: number): Interval {
  const tail = (1 - level) / 2
  return {
    low: failures === 0 ? 0 : gammaQuantile(tail, failures) / exposure,
    high: gammaQuantile(1 - tail, failures + 1) / exposure,
  }
}

/**
 * Knowledge of a rate from two judgements: it is as likely below one value as above, and hardly above another.
 * @param median the rate with even odds [1/exposure], > 0   @param high the rate not exceeded with probability p, > median
 * @param p above 0.5, as 0.95
 * Source: the "50/95" way of NIST/SEMATECH, e-Handbook of Statistical Methods, chapter 8 (from memory).
 * Checked in the worked examples.
 */
export function rateFromQuantiles(median: number, high: number, p: number): RateKnowledge {
  if (!(median > 0 && high > median && p > 0.5 && p < 1))
    throw new RangeError(`no rate has the median ${median} and is at most ${high} with probability ${p}`)
  // The more is known, the closer the two: their ratio falls with the shape.
  const isCloser = (log: number) => gammaQuantile(p, Math.exp(log)) / gammaQuantile(0.5, Math.exp(log)) < high / median
  let [low, top] = SHAPES_IN_LOG
  while (top - low > 1e-14 * Math.max(1, Math.abs(low))) {
    const middle = (low + top) / 2
    if (middle <= low || middle >= top) break
    if (isCloser(middle)) top = middle
    else low = middle
  }
  const shape = Math.exp(low)
  return { shape, exposure: gammaQuantile(0.5, shape) / median }
}

/** Logarithm of the shapes looked at: from a guess over many decades to as good as certain. */
const SHAPES_IN_LOG = [Math.log(0.02), Math.log(1e6)]
