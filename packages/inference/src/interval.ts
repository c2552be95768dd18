/** What an interval tells of a standard normal quantity: its probability, and the mean and variance of what is left of it. */

import { logNormalCdf, normalInterval, normalPdf } from '@halfsplit/core'

/** A standard normal quantity after it was found in an interval, or at a point. */
export interface Truncated {
  /** Natural logarithm of the probability of the interval, or of the density at the point. */
  readonly log: number
  readonly mean: number
  /** Variance that is left, 0 to 1. */
  readonly variance: number
}

const LOG_SQRT_TWO_PI = 0.5 * Math.log(2 * Math.PI)

// Gauss-Legendre nodes and weights, 10 points (Abramowitz and Stegun, table 25.4, from memory; checked by their moments in the test).
const NODES = [0.14887433898163122, 0.4333953941292472, 0.6794095682990244, 0.8650633666889845, 0.9739065285171717]
const WEIGHTS = [0.29552422471475287, 0.26926671930999635, 0.21908636251598204, 0.1494513491505806, 0.06667134430868814]

/** A narrow interval: moments about the middle by quadrature, because the closed form would subtract nearly equal numbers. */
function narrow(middle: number, half: number): Truncated {
  let mass = 0
  let first = 0
  let second = 0
  for (let i = 0; i < NODES.length; i++) {
    const t = half * NODES[i]
    const up = Math.exp(-t * (middle + t / 2)) * WEIGHTS[i]
    const down = Math.exp(t * (middle - t / 2)) * WEIGHTS[i]
    mass += up + down
    first += t * (up - down)
    second += t * t * (up + down)
  }
  const offset = first / mass
  return {
    log: -(middle * middle) / 2 - LOG_SQRT_TWO_PI + Math.log(half * mass),
    mean: middle + offset,
    variance: Math.max(second / mass - offset * offset, 0),
  }
}

/** Below this half-width (times the middle) the series in the half-width is good to 1e-11. */
const SERIES = 0.05

/** A very narrow interval: the usual one, a display step against the spread of the quantity. */
function sliver(middle: number, half: number): Truncated {
  const h = half * half
  const m = middle * middle
  const mass = 1 + (h * (m - 1)) / 6 + (h * h * (m * m - 6 * m + 3)) / 120
  return {
    log: -m / 2 - LOG_SQRT_TWO_PI + Math.log(2 * half * mass),
    mean: middle - (middle * h) / 3,
    variance: h / 3,
  }
}

/** Hazard phi(a)/P(Z > a). */
function hazard(a: number): number {
  return Math.exp(-(a * a) / 2 - LOG_SQRT_TWO_PI - logNormalCdf(-a))
}

/** Beyond this the closed form of the variance loses its digits, and the tail is exponential to a part in its square. */
const FAR_TAIL = 50

/** The tail as an exponential law of decay `low`, cut off at `span` decay lengths. */
function farTail(low: number, high: number, log: number, share: number): Truncated {
  const span = low * (high - low)
  const lost = share === 0 ? 0 : (span * share) / (1 - share)
  const spread = share === 0 ? 1 : 1 - (lost * span) / (1 - share)
  return { log, mean: low + (1 - lost) / low, variance: clampVariance(spread / (low * low)) }
}

/** An interval above zero, wide against the decay of the tail; `high` may be infinite. */
function tail(low: number, high: number): Truncated {
  const logLow = logNormalCdf(-low)
  const share = high === Number.POSITIVE_INFINITY ? 0 : Math.exp(logNormalCdf(-high) - logLow)
  const log = logLow + Math.log1p(-share)
  if (low > FAR_TAIL) return farTail(low, high, log, share)
  const hazardLow = hazard(low) / (1 - share)
  const hazardHigh = share === 0 ? 0 : (share * hazard(high)) / (1 - share)
  const mean = hazardLow - hazardHigh
  const pull = low * hazardLow - (share === 0 ? 0 : high * hazardHigh)
  return { log, mean, variance: clampVariance(1 + pull - mean * mean) }
}

function clampVariance(variance: number): number {
  return Math.min(Math.max(variance, 0), 1)
}

/** An interval with zero inside it and not narrow: nothing cancels. */
function central(low: number, high: number): Truncated {
  const mass = normalInterval(low, high)
  const atLow = normalPdf(low)
  const atHigh = normalPdf(high)
  const mean = (atLow - atHigh) / mass
  const pull = (Number.isFinite(low) ? low * atLow : 0) - (Number.isFinite(high) ? high * atHigh : 0)
  return { log: Math.log(mass), mean, variance: clampVariance(1 + pull / mass - mean * mean) }
}

/**
 * A standard normal quantity given that it lies in `low..high`: log probability, mean and variance, in the log domain, with no
 * cancellation for narrow intervals or far tails.
 *     mean = (phi(low) - phi(high))/P,  variance = 1 + (low phi(low) - high phi(high))/P - mean²
 * @param low lower end [1], may be -Infinity   @param high upper end [1], may be Infinity
 * Source: Johnson, Kotz & Balakrishnan, Continuous Univariate Distributions 1, section 13.10 (truncated normal), from memory.
 * Checked in interval.test.ts.
 */
export function truncatedNormal(low: number, high: number): Truncated {
  if (low + high < 0) {
    const mirrored = truncatedNormal(-high, -low)
    return { ...mirrored, mean: -mirrored.mean }
  }
  if (!(high > low)) return { log: Number.NEGATIVE_INFINITY, mean: 0, variance: 1 }
  const middle = (low + high) / 2
  const half = (high - low) / 2
  if (half * Math.max(1, middle) < SERIES) return sliver(middle, half)
  if ((high - low) * Math.max(1, high) < 2) return narrow(middle, half)
  return low > 0 ? tail(low, high) : central(low, high)
}

/** A standard normal quantity known to stand at `x`: the log of its density there, and nothing left to know. */
export function pointNormal(x: number): Truncated {
  return { log: -(x * x) / 2 - LOG_SQRT_TWO_PI, mean: x, variance: 0 }
}

/** log(exp(a) + exp(b)), also for -Infinity. */
export function logAdd(a: number, b: number): number {
  const high = Math.max(a, b)
  return high === Number.NEGATIVE_INFINITY ? high : high + Math.log1p(Math.exp(Math.min(a, b) - high))
}

/** log of the sum of the exponentials, also for an empty list (-Infinity). */
export function logSum(terms: ArrayLike<number>): number {
  let high = Number.NEGATIVE_INFINITY
  for (let i = 0; i < terms.length; i++) high = Math.max(high, terms[i])
  if (high === Number.NEGATIVE_INFINITY) return high
  let sum = 0
  for (let i = 0; i < terms.length; i++) sum += Math.exp(terms[i] - high)
  return high + Math.log(sum)
}
