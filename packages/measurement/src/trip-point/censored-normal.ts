/** Mean and spread of a normal quantity of which only intervals are known. */

import { normalInterval, normalPdf } from '@halfsplit/core'
import type { Interval } from '../interval.js'

/** Maximum-likelihood estimate with standard errors from the observed information. */
export interface NormalEstimate {
  readonly mean: number
  readonly sd: number
  readonly meanError: number
  readonly sdError: number
}

/** Slopes and curvatures of the log-likelihood in mean and sd. */
interface Slopes {
  mean: number
  sd: number
  meanMean: number
  meanSd: number
  sdSd: number
}

const STEPS = 200

/**
 * The last step, as a share of the sd: what Newton's method leaves after it is its square, far below the rounding of the
 * slopes.
 */
const STILL = 1e-8

/**
 * Normal law fitted to intervals by maximum likelihood, Newton's method.
 *     log L = sum of log( Phi((high − mean)/sd) − Phi((low − mean)/sd) )
 * @param intervals at least two, each of some width, not all overlapping   @returns in the unit of the intervals
 * @returns undefined where the likelihood has no peak at an sd above 0, as when all intervals have a point in common
 * Source: maximum likelihood for interval-censored data, standard; derivatives written out here.  Checked in
 * censored-normal.test.ts.
 */
export function fitCensoredNormal(intervals: readonly Interval[]): NormalEstimate | undefined {
  if (Math.max(...intervals.map(({ low }) => low)) <= Math.min(...intervals.map(({ high }) => high))) return undefined
  const middles = intervals.map(({ low, high }) => (low + high) / 2)
  let mean = middles.reduce((sum, one) => sum + one, 0) / middles.length
  let sd = Math.sqrt(middles.reduce((sum, one) => sum + (one - mean) ** 2, 0) / middles.length)
  for (let step = 0; step < STEPS; step++) {
    const slopes = slopesAt(intervals, mean, sd)
    const { mean: meanStep, sd: sdStep } = newtonStep(slopes)
    // Half the way to 0 at most, so that the spread stays above it.
    const nextSd = Math.max(sd - sdStep, sd / 2)
    const isStill = Math.abs(meanStep) + Math.abs(nextSd - sd) < STILL * sd
    mean -= meanStep
    sd = nextSd
    if (isStill) return withErrors(intervals, mean, sd)
  }
  return undefined
}

/**
 * The step that Newton's method takes away; where the likelihood is not yet curved like a peak, a step along the slope's
 * sign.
 */
function newtonStep({ mean, sd, meanMean, meanSd, sdSd }: Slopes): { mean: number; sd: number } {
  const determinant = meanMean * sdSd - meanSd ** 2
  if (meanMean < 0 && determinant > 0)
    return { mean: (mean * sdSd - sd * meanSd) / determinant, sd: (sd * meanMean - mean * meanSd) / determinant }
  return { mean: 0, sd: sd / -Math.abs(sdSd) }
}

function withErrors(intervals: readonly Interval[], mean: number, sd: number): NormalEstimate | undefined {
  const { meanMean, meanSd, sdSd } = slopesAt(intervals, mean, sd)
  const determinant = meanMean * sdSd - meanSd ** 2
  if (!(meanMean < 0 && determinant > 0)) return undefined
  return { mean, sd, meanError: Math.sqrt(-sdSd / determinant), sdError: Math.sqrt(-meanMean / determinant) }
}

/**
 * With z the ends in standard units and f the density, n-th differences d(n) = high z^n f − low z^n f, all over P and powers
 * of sd.
 */
function slopesAt(intervals: readonly Interval[], mean: number, sd: number): Slopes {
  const total: Slopes = { mean: 0, sd: 0, meanMean: 0, meanSd: 0, sdSd: 0 }
  for (const { low, high } of intervals) {
    const [a, b] = [(low - mean) / sd, (high - mean) / sd]
    const [fa, fb] = [normalPdf(a), normalPdf(b)]
    const p = normalInterval(a, b)
    const d = [0, 1, 2, 3].map((n) => (b ** n * fb - a ** n * fa) / p)
    total.mean -= d[0] / sd
    total.sd -= d[1] / sd
    total.meanMean -= (d[1] + d[0] ** 2) / sd ** 2
    total.meanSd += (d[0] - d[2] - d[0] * d[1]) / sd ** 2
    total.sdSd += (2 * d[1] - d[3] - d[1] ** 2) / sd ** 2
  }
  return total
}
