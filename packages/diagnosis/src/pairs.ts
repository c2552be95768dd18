import { ASSUMPTIONS } from '@halfsplit/core'
import type { Belief } from '@halfsplit/inference'
import { type Hypothesis, pairOf, type SizedHypothesis } from './hypotheses.js'

/** Most pairs looked at; the weight of the rest is stated. */
const MOST_PAIRS = 80

/** How well each hypothesis alone fits the complaint, 0 to 1. */
export function fitOf(hypotheses: readonly Hypothesis[], sized: readonly SizedHypothesis[], result: Belief): Float64Array {
  const fit = new Float64Array(hypotheses.length)
  const total = new Float64Array(hypotheses.length)
  sized.forEach(({ hypothesis, weight }, i) => {
    fit[hypothesis] += weight * Math.exp(result.logLikelihood[i])
    total[hypothesis] += weight
  })
  return fit.map((value, h) => value / total[h])
}

/**
 * Pairs of faults that an operator would notice, in different parts, heaviest first by prior and by how well the better of the two
 * fits, until little is left. A second fault that nobody notices is no rival to the first and changes no verdict here: it is
 * for the proof after the repair to find.
 */
export function heaviestPairs(
  visible: readonly { hypothesis: Hypothesis; fit: number }[],
  alone: number,
): { pairs: Hypothesis[]; leftOut: number } {
  const found: { p: Hypothesis; q: Hypothesis; weight: number }[] = []
  for (let i = 0; i < visible.length; i += 1) {
    for (let j = i + 1; j < visible.length; j += 1) {
      const p = visible[i].hypothesis
      const q = visible[j].hypothesis
      const weight = p.weight * q.weight * Math.max(visible[i].fit, visible[j].fit)
      if (weight > 0 && p.faults[0].part !== q.faults[0].part) found.push({ p, q, weight })
    }
  }
  found.sort((a, b) => b.weight - a.weight || (a.p.id + a.q.id < b.p.id + b.q.id ? -1 : 1))
  let left = found.reduce((sum, one) => sum + one.weight, 0)
  const whole = alone + left
  const pairs: Hypothesis[] = []
  for (const { p, q, weight } of found) {
    if (left < ASSUMPTIONS.leftOut * whole || pairs.length >= MOST_PAIRS) break
    pairs.push(pairOf(p, q))
    left -= weight
  }
  return { pairs, leftOut: Math.max(left, 0) / whole }
}
