import { normalCdf } from '@halfsplit/core'
import { type Display, displayEdges, type Predictive } from '@halfsplit/inference'

/** Beyond so many standard deviations a normal is taken to be whole. */
const REACH = 6

/** Shares of a distribution of numbers between cuts: below the first, ..., above the last. Their sum is that of its weights. */
export function sharesBetween({ normals, uniforms }: Predictive, cuts: readonly number[]): Float64Array {
  const shares = new Float64Array(cuts.length + 1)
  for (const { weight, mean, sd } of normals) addNormal(shares, cuts, weight, mean, sd)
  for (const { weight, low, high } of uniforms) {
    let from = low
    for (let i = 0; i <= cuts.length; i++) {
      const to = i < cuts.length ? Math.min(Math.max(cuts[i], from), high) : high
      shares[i] += (weight * (to - from)) / (high - low)
      from = to
    }
  }
  return shares
}

function addNormal(shares: Float64Array, cuts: readonly number[], weight: number, mean: number, sd: number): void {
  let below = 0
  let i = firstAbove(cuts, mean - REACH * sd)
  for (; i < cuts.length && cuts[i] < mean + REACH * sd; i++) {
    const upTo = sd > 0 ? normalCdf((cuts[i] - mean) / sd) : Number(cuts[i] >= mean)
    shares[i] += weight * (upTo - below)
    below = upTo
  }
  shares[i] += weight * (1 - below)
}

function firstAbove(cuts: readonly number[], x: number): number {
  let from = 0
  let to = cuts.length
  while (from < to) {
    const middle = (from + to) >> 1
    if (cuts[middle] > x) to = middle
    else from = middle + 1
  }
  return from
}

/** Places on each normal where a cut may be wanted, in its standard deviations. */
const MARKS = [-3.5, -2, -1, 1, 2, 3.5]
/** Cuts to begin with: merging takes away what says the same. */
const MOST_CUTS = 40
/** Normals lighter than this give no cut of their own. */
const LEAST_PART = 0.01

/**
 * Cuts to begin with: on the flanks of what each suspect shows, none inside one step of the display, and at both ends of what it
 * can show. Light suspects count by the square root of their weight, so that a rare one gets cuts too.
 */
export function candidateCuts(
  cells: readonly { readonly probability: number; readonly predictive: Predictive }[],
  display: Display,
): number[] {
  const marks = cells.flatMap(({ probability, predictive }) =>
    predictive.normals
      .filter(({ weight }) => weight >= LEAST_PART)
      .flatMap(({ weight, mean, sd }) => MARKS.map((z) => ({ at: mean + z * sd, weight: Math.sqrt(probability * weight) }))),
  )
  return displayEdges(marks, display, MOST_CUTS)
}
