/** Conditions of thresholds: how probable it is that several hold together, and what they teach. */

import type { MarginCondition } from './evidence.js'
import { truncatedNormal } from './interval.js'
import { type Knowledge, learn, project, type Rows, type Target, target, view } from './knowledge.js'
import { bothAbove } from './bivariate.js'

/** A condition whose margin stands in the table of rows. */
export interface Condition {
  readonly at: Target
  readonly side: 1 | -1
}

/** Enters the margins of conditions in the table of rows. */
export function conditionsOf(rows: Rows, conditions: readonly MarginCondition[]): Condition[] {
  return conditions.map(({ mean, sensitivities, freshSd, side }) => ({
    at: target(rows, mean, sensitivities, freshSd ?? 0),
    side,
  }))
}

/** What is known once conditions hold: log of their joint probability given what was known, and the knowledge after them. */
export interface Held {
  readonly log: number
  readonly known: Knowledge
  /** The conditions that still say something: the others follow from these and from the readings. */
  readonly needed: readonly Condition[]
}

/** A condition in units of its margin's spread: it holds where a standard normal exceeds `edge`. */
interface Standard {
  readonly edge: number
  readonly sd: number
}

function standard(rows: Rows, known: Knowledge, { at, side }: Condition): Standard {
  const { mean, variance } = view(rows, known, at)
  const sd = Math.sqrt(variance)
  return { edge: (-side * mean) / sd, sd }
}

/** Correlation of two conditions' margins, each counted towards its side, given what is known. */
function correlation(rows: Rows, known: Knowledge, a: Condition, b: Condition, sdA: number, sdB: number): number {
  if (a.at.row < 0 || b.at.row < 0) return 0
  const products = rows.productsOf(a.at.row)
  const alongA = project(known, products[a.at.row], products).along
  const other = rows.productsOf(b.at.row)
  const alongB = project(known, other[b.at.row], other).along
  const covariance = alongA.reduce((sum, p, k) => sum - p * alongB[k], products[b.at.row])
  return Math.max(-1, Math.min(1, (a.side * b.side * covariance) / (sdA * sdB)))
}

/** Log probability that a condition holds, and the knowledge once it does, by matched mean and variance. */
function matched(rows: Rows, known: Knowledge, { at, side }: Condition): Omit<Held, 'needed'> {
  const { seen, mean, variance } = view(rows, known, at)
  const edge = -mean / Math.sqrt(variance)
  const found = side > 0 ? truncatedNormal(edge, Number.POSITIVE_INFINITY) : truncatedNormal(Number.NEGATIVE_INFINITY, edge)
  const taught = seen === null || found.log === Number.NEGATIVE_INFINITY ? known : learn(known, at.row, seen, variance, found)
  return { log: found.log, known: taught }
}

/** Below this correlation matching mean and variance is good enough. */
const WEAK = 0.3

/** A condition surer than this, given those before, teaches nothing more. */
const SURE = 0.999

/** A condition that falls short of certainty by less than this follows from the others. */
const FOLLOWS = 1e-7

/** Conditions less probable than this are left to matching: their ratio would be noise. */
const RARE = 1e-9

/**
 * Correction of a matched probability by the earlier condition most correlated with it: the exact probability given that one alone,
 * over the matched one given that one alone. It makes a condition met twice certain, and its opposite impossible, which matching a
 * cut-off normal by a normal does not.
 */
function correction(rows: Rows, known: Knowledge, condition: Condition, earlier: readonly Condition[]): number {
  if (earlier.length === 0) return 0
  const own = standard(rows, known, condition)
  let best = { rho: 0, with: condition, edge: 0 }
  for (const other of earlier) {
    const { edge, sd } = standard(rows, known, other)
    const rho = correlation(rows, known, condition, other, own.sd, sd)
    if (Math.abs(rho) > Math.abs(best.rho)) best = { rho, with: other, edge }
  }
  if (Math.abs(best.rho) < WEAK) return 0
  const first = matched(rows, known, best.with)
  const alone = matched(rows, first.known, condition).log
  if (first.log < Math.log(RARE) || alone < Math.log(RARE)) return 0
  return Math.log(bothAbove(own.edge, best.edge, best.rho)) - first.log - alone
}

/**
 * Conditions taken together given what the readings taught: one condition exactly, two exactly, more by matched mean and variance
 * with the correction above.
 */
export function hold(rows: Rows, known: Knowledge, conditions: readonly Condition[]): Held {
  const needed: Condition[] = []
  let total = 0
  let now = known
  for (const condition of conditions) {
    const next = matched(rows, now, condition)
    const log = Math.min(0, next.log + correction(rows, known, condition, needed))
    total += log
    if (log < Math.log(SURE)) now = next.known
    if (log < -FOLLOWS) needed.push(condition)
  }
  return { log: total, known: now, needed }
}
