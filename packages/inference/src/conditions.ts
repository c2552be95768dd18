/** Conditions of thresholds: how probable it is that several hold together, and what they teach. */

import type { MarginCondition } from './evidence.js'
import { truncatedNormal } from './interval.js'
import { type Knowledge, learn, type Rows, type Target, target, view } from './knowledge.js'
import { bothAbove } from './bivariate.js'

/** A condition whose margin stands in the table of rows. */
export interface Condition {
  readonly at: Target
  readonly side: 1 | -1
  /** As it was predicted: the same margin met again on the way into another setup is the same object. */
  readonly margin: MarginCondition
}

/** Enters the margins of conditions in the table of rows. */
export function conditionsOf(rows: Rows, conditions: readonly MarginCondition[]): Condition[] {
  return conditions.map((margin) => {
    const { mean, sensitivities, freshSd, side } = margin
    return { at: target(rows, mean, sensitivities, freshSd ?? 0), side, margin }
  })
}

/** The conditions that are not among those decided before; undefined where one of them was decided the other way. */
export function undecided(decided: readonly Condition[], conditions: readonly Condition[]): readonly Condition[] | undefined {
  if (decided.length === 0 || conditions.length === 0) return conditions
  const open: Condition[] = []
  for (const condition of conditions) {
    const before = decided.find(({ margin }) => sameMargin(margin, condition.margin))
    if (before === undefined) open.push(condition)
    else if (before.side !== condition.side) return undefined
  }
  return open
}

/** A margin with a fresh part is drawn anew each time it is met. */
const sameMargin = (a: MarginCondition, b: MarginCondition): boolean =>
  a.sensitivities === b.sensitivities && a.mean === b.mean && !a.freshSd && !b.freshSd

/** What is known once conditions hold: log of their joint probability given what was known, and the knowledge after them. */
export interface Held {
  readonly log: number
  readonly known: Knowledge
  /** The conditions that still say something: the others follow from these and from the readings. */
  readonly needed: readonly Condition[]
}

/** A condition as seen from the readings alone: it holds where a standard normal, its margin over `sd`, exceeds `edge`. */
interface Seen {
  readonly condition: Condition
  readonly edge: number
  readonly sd: number
  readonly along: readonly number[]
}

const NOTHING_ALONG: readonly number[] = []

function see(rows: Rows, known: Knowledge, condition: Condition): Seen {
  const { seen, mean, variance } = view(rows, known, condition.at)
  const sd = Math.sqrt(variance)
  return { condition, edge: (-condition.side * mean) / sd, sd, along: seen?.along ?? NOTHING_ALONG }
}

/** Correlation of two margins, each counted towards its side, given the readings. */
function correlation(rows: Rows, a: Seen, b: Seen): number {
  const [rowA, rowB] = [a.condition.at.row, b.condition.at.row]
  if (rowA < 0 || rowB < 0) return 0
  let covariance = rows.productsOf(rowA)[rowB]
  for (let k = 0; k < a.along.length; k++) covariance -= a.along[k] * b.along[k]
  return Math.max(-1, Math.min(1, (a.condition.side * b.condition.side * covariance) / (a.sd * b.sd)))
}

/** The earlier condition most correlated with this one. */
function nearest(rows: Rows, condition: Seen, earlier: readonly Seen[]): { readonly rho: number; readonly other: Seen } | null {
  let best: { rho: number; other: Seen } | null = null
  for (const other of earlier) {
    const rho = correlation(rows, condition, other)
    if (best === null || Math.abs(rho) > Math.abs(best.rho)) best = { rho, other }
  }
  return best
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

/** From this correlation two margins are one. */
const SAME = 1 - 1e-9

/** A condition surer than this, given those before, teaches nothing more. */
const SURE = 0.999

/** A condition that falls short of certainty by less than this follows from the others. */
const FOLLOWS = 1e-7

/** Conditions less probable than this are left to matching: their ratio would be noise. */
const RARE = Math.log(1e-9)

/**
 * Correction of a matched probability by the earlier condition most correlated with it: the exact probability given that one alone,
 * over the matched one given that one alone. It makes a condition met twice certain, and its opposite impossible, which matching a
 * cut-off normal by a normal does not.
 */
function correction(rows: Rows, known: Knowledge, { condition, edge }: Seen, rho: number, other: Seen): number {
  const first = matched(rows, known, other.condition)
  const alone = matched(rows, first.known, condition).log
  if (first.log < RARE || alone < RARE) return 0
  return Math.log(bothAbove(edge, other.edge, rho)) - first.log - alone
}

/**
 * Conditions taken together given what the readings taught: one condition exactly, two exactly, more by matched mean and variance
 * with the correction above. Of one margin met again only the stricter edge counts.
 */
export function hold(rows: Rows, known: Knowledge, conditions: readonly Condition[]): Held {
  const earlier: Seen[] = []
  let total = 0
  let now = known
  for (const condition of conditions) {
    const seen = see(rows, known, condition)
    const near = nearest(rows, seen, earlier)
    if (near !== null && near.rho > SAME && seen.edge <= near.other.edge) continue
    const next = matched(rows, now, condition)
    const corrected = near === null || Math.abs(near.rho) < WEAK ? 0 : correction(rows, known, seen, near.rho, near.other)
    const log = Math.min(0, next.log + corrected)
    total += log
    if (log < Math.log(SURE)) now = next.known
    if (log < -FOLLOWS) earlier.push(seen)
  }
  return { log: total, known: now, needed: earlier.map(({ condition }) => condition) }
}
