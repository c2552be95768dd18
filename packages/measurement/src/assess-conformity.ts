import { HalfsplitError, normalInterval } from '@halfsplit/core'

/** Tolerance limits of a quantity; either may be absent. */
export interface Limits {
  low?: number
  high?: number
}

/** A measured value with its standard uncertainty, in one unit. */
export interface Measured {
  value: number
  u: number
}

/** What may be said of a part: 'cannot tell' is an answer, and the usual one near a limit. */
export type Verdict = 'good' | 'bad' | 'cannot tell'

/** How sure a verdict must be. */
export interface DecisionRule {
  /** Expanded uncertainty is coverage·u; 2 covers about 95 %. */
  coverage: number
  /** Width of the guard band in expanded uncertainties; 0 is the plain comparison with the limits. */
  guard: number
}

/** Guard band of one expanded uncertainty (k = 2) on both sides of each limit: at most about 2.3 % of the verdicts at a limit are wrong. */
export const GUARDED: DecisionRule = { coverage: 2, guard: 1 }

/** Result of a comparison of a measured value with its limits. */
export interface Conformity {
  verdict: Verdict
  measured: Measured
  /** Width of the guard band, in the unit of the value. */
  guardBand: number
  /** Probability that the true value is within the limits, flat prior, normal law. */
  conformance: number
  /** Within these the verdict is 'good'; low above high means that no reading could ever show it. */
  acceptance: Limits
}

/** Limits drawn in by `width` at both ends: surely inside, if the measurement is within `width`. A negative width lets them out. */
export function guardedLimits(limits: Limits, width: number): Limits {
  return {
    ...(limits.low === undefined ? {} : { low: limits.low + width }),
    ...(limits.high === undefined ? {} : { high: limits.high - width }),
  }
}

function within(x: number, limits: Limits): boolean {
  return x >= (limits.low ?? Number.NEGATIVE_INFINITY) && x <= (limits.high ?? Number.POSITIVE_INFINITY)
}

/**
 * Probability that the true value is within the limits:  Phi((high − y)/u) − Phi((low − y)/u).
 * @returns 0 to 1; with u = 0 it is 0 or 1   Source: JCGM 106:2012, clause 7 (flat prior).
 */
export function conformanceProbability(measured: Measured, limits: Limits): number {
  const { value, u } = measured
  if (u === 0) return within(value, limits) ? 1 : 0
  const standard = (limit: number | undefined, absent: number) => (limit === undefined ? absent : (limit - value) / u)
  return normalInterval(standard(limits.low, Number.NEGATIVE_INFINITY), standard(limits.high, Number.POSITIVE_INFINITY))
}

/**
 * Compares a measured value with tolerance limits, by a guarded rule with three answers:
 *     good          low + w <= y <= high − w
 *     bad           y < low − w  or  y > high + w
 *     cannot tell   otherwise;      w = guard · coverage · u
 * So neither verdict is given on a reading that the uncertainty alone could have brought to its side of the limit. A plain comparison
 * would call a value on a limit good or bad by chance; guarded acceptance alone would call every doubtful part bad.
 * @param measured value and standard uncertainty, u >= 0, unit of the limits   @param limits at least one
 * @throws HalfsplitError LIMITS_MISSING, LIMITS_REVERSED, MEASUREMENT_UNUSABLE
 * Source: JCGM 106:2012, clause 8 (guard bands, decision rules), clause 7 (probability).  Checked in assess-conformity.ref.test.ts.
 */
export function assessConformity(measured: Measured, limits: Limits, rule: DecisionRule = GUARDED): Conformity {
  checkInput(measured, limits)
  const guardBand = rule.guard * rule.coverage * measured.u
  const acceptance = guardedLimits(limits, guardBand)
  const doubt = guardedLimits(limits, -guardBand)
  const verdict = within(measured.value, acceptance) ? 'good' : within(measured.value, doubt) ? 'cannot tell' : 'bad'
  return { verdict, measured, guardBand, conformance: conformanceProbability(measured, limits), acceptance }
}

function checkInput({ value, u }: Measured, { low, high }: Limits): void {
  if (low === undefined && high === undefined) throw new HalfsplitError('LIMITS_MISSING', 'there is no limit to compare with')
  if (low !== undefined && high !== undefined && low > high)
    throw new HalfsplitError('LIMITS_REVERSED', 'the lower limit is above the upper')
  if (!Number.isFinite(value) || !(u >= 0)) throw new HalfsplitError('MEASUREMENT_UNUSABLE', 'the measured value is not a number')
}
