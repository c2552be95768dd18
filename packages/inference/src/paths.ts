/** Paths: the ways the records under one cell may have come about, and how one record or condition carries a path on. */

import type { MarginCondition, Outcome, Sensitivities } from './evidence.js'
import { logAdd, pointNormal, type Truncated, truncatedNormal } from './interval.js'
import { type Knowledge, learn, ownProduct, type Projection, project, type Rows } from './knowledge.js'
import { type Chances, tellsOfNumber } from './record-likelihood.js'

/** One way the records may have come about: which branches held, which records were misread, what the rest taught. */
export interface Path {
  readonly known: Knowledge
  readonly log: number
  /** The same under *something not in this description*. */
  readonly oddLog: number
  readonly misreads: number
}

/** Before any record. */
export const START: Path = { known: null, log: 0, oddLog: 0, misreads: 0 }

export interface Limits {
  /** Most records of one list that may be misread: beyond it, no verdict is worth having. */
  readonly misreads: number
  /** Paths below this share of the best are dropped. */
  readonly share: number
  /** The same for the paths of *something not in this description*, a coarse hypothesis; 1 where it is left out. */
  readonly oddShare: number
  /** Most paths kept at once; the heaviest stay. */
  readonly paths: number
}

export const LIMITS: Limits = { misreads: 4, share: 1e-9, oddShare: 1e-4, paths: 256 }

/** Where the latents leave less spread than this share of the value, the number counts as certain to that share. */
const LEAST_SPREAD = 1e-9

/** A number to be seen: its row in the table (-1: no latents), the products of the row, prior mean, fresh variance. */
export interface Target {
  readonly row: number
  readonly products: Float64Array
  readonly own: number
  readonly mean: number
  readonly freshVariance: number
}

const NO_PRODUCTS = new Float64Array(0)

/** Enters a quantity in the table of rows. */
export function target(rows: Rows, mean: number, sensitivities: Sensitivities, freshSd: number): Target {
  const freshVariance = freshSd * freshSd
  if (sensitivities.index.length === 0) return { row: -1, products: NO_PRODUCTS, own: 0, mean, freshVariance }
  const products = rows.against(sensitivities)
  return { row: rows.add(sensitivities), products, own: ownProduct(sensitivities), mean, freshVariance }
}

interface View {
  /** Null where no latent moves the number. */
  readonly seen: Projection | null
  readonly mean: number
  readonly variance: number
}

function view(known: Knowledge, { row, products, own, mean, freshVariance }: Target): View {
  const seen = row < 0 ? null : project(known, own, products)
  return { seen, mean: mean + (seen?.shift ?? 0), variance: spreadOf(mean, (seen?.variance ?? 0) + freshVariance) }
}

/** The variance, kept above zero so that a number without any spread is a very sharp one. */
export function spreadOf(mean: number, variance: number): number {
  const floor = LEAST_SPREAD * Math.abs(mean)
  return Math.max(variance, floor * floor, Number.MIN_VALUE)
}

const IMPOSSIBLE = { ...pointNormal(0), log: Number.NEGATIVE_INFINITY }

/** A path one record further, not yet taught by it: most such paths are dropped before it would pay. */
interface Fork {
  readonly path: Path
  readonly lesson: { readonly seen: Projection; readonly variance: number; readonly found: Truncated } | null
  readonly log: number
  readonly oddLog: number
}

/** The logs of chances, taken once a record. */
function logsOf(chances: Chances) {
  const { good, other, oddGood, oddOther } = chances
  return { good: Math.log(good), other: Math.log(other), oddGood: Math.log(oddGood), oddOther: Math.log(oddOther) }
}

function forksOf(path: Path, outcome: Outcome, at: Target, logs: Chances, limits: Limits): Fork[] {
  const { seen, mean, variance } = view(path.known, at)
  const found = tellsOfNumber(outcome, mean, Math.sqrt(variance)) ?? IMPOSSIBLE
  const good = logs.good + found.log
  const oddGood = logs.oddGood + found.log
  const { log, oddLog } = path
  if (seen === null)
    return [{ path, lesson: null, log: log + logAdd(good, logs.other), oddLog: oddLog + logAdd(oddGood, logs.oddOther) }]
  const taught: Fork = { path, lesson: { seen, variance, found }, log: log + good, oddLog: oddLog + oddGood }
  if (path.misreads >= limits.misreads) return [taught]
  const misread = { ...path, misreads: path.misreads + 1 }
  return [taught, { path: misread, lesson: null, log: log + logs.other, oddLog: oddLog + logs.oddOther }]
}

/** The paths after one record of a number: seen as predicted, or come about some other way. */
export function afterNumber(paths: readonly Path[], outcome: Outcome, at: Target, chances: Chances, limits: Limits): Path[] {
  const logs = logsOf(chances)
  const forks = paths.flatMap((path) => forksOf(path, outcome, at, logs, limits))
  return prune(forks, limits).map(({ path: { known, misreads }, lesson, log, oddLog }) => ({
    known: lesson === null ? known : learn(known, at.row, lesson.seen, lesson.variance, lesson.found),
    log,
    oddLog,
    misreads,
  }))
}

/** The paths after a record that teaches nothing of the latents. */
export function afterWord(paths: readonly Path[], { other, oddOther }: Chances): Path[] {
  const log = Math.log(other)
  const oddLog = Math.log(oddOther)
  return paths.map((path) => ({ ...path, log: path.log + log, oddLog: path.oddLog + oddLog }))
}

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

/** The path given that all conditions hold: its weight changes by their probability, its knowledge by what they tell. */
export function given(path: Path, conditions: readonly Condition[]): Path {
  let { known, log, oddLog } = path
  for (const { at, side } of conditions) {
    const { seen, mean, variance } = view(known, at)
    const edge = -mean / Math.sqrt(variance)
    const found = side > 0 ? truncatedNormal(edge, Number.POSITIVE_INFINITY) : truncatedNormal(Number.NEGATIVE_INFINITY, edge)
    if (seen !== null && found.log > Number.NEGATIVE_INFINITY) known = learn(known, at.row, seen, variance, found)
    log += found.log
    oddLog += found.log
  }
  return { ...path, known, log, oddLog }
}

/** Drops paths that can't matter any more, and keeps the heaviest where there are too many. */
export function prune<T extends { readonly log: number; readonly oddLog: number }>(paths: T[], limits: Limits): T[] {
  let best = Number.NEGATIVE_INFINITY
  let oddBest = Number.NEGATIVE_INFINITY
  for (const { log, oddLog } of paths) {
    best = Math.max(best, log)
    oddBest = Math.max(oddBest, oddLog)
  }
  const least = best + Math.log(limits.share)
  const oddLeast = oddBest + Math.log(limits.oddShare)
  const kept = paths.filter(({ log, oddLog }) => log > least || (oddLog > oddLeast && limits.oddShare < 1))
  if (kept.length <= limits.paths) return kept
  return kept.sort((a, b) => b.log - a.log || b.oddLog - a.oddLog).slice(0, limits.paths)
}
