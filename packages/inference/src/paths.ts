/** Paths: the ways the records under one cell may have come about, and how one record or condition carries a path on. */

import type { Condition } from './conditions.js'
import type { Outcome } from './evidence.js'
import { logAdd, pointNormal, type Truncated } from './interval.js'
import { type Knowledge, learn, type Projection, type Rows, type Target, view } from './knowledge.js'
import { type Chances, tellsOfNumber } from './record-likelihood.js'

/** One way the records may have come about: which branches held, which records were misread, what the rest taught. */
export interface Path {
  /** What the readings taught. */
  readonly known: Knowledge
  /** The thresholds' conditions that hold on this path, and the log of their joint probability given the readings. */
  readonly held: readonly Condition[]
  readonly heldLog: number
  /** Every condition that was decided on this path, those that follow from the others too. */
  readonly decided: readonly Condition[]
  /** Log weight, `heldLog` included. */
  readonly log: number
  /** The same under *something not in this description*. */
  readonly oddLog: number
  readonly misreads: number
  /** Whether the last record of a number was taken as predicted. */
  readonly taken: boolean
}

/** Before any record. */
export const START: Path = { known: null, held: [], heldLog: 0, decided: [], log: 0, oddLog: 0, misreads: 0, taken: false }

/** How far the ways in which records came about are followed. */
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

const IMPOSSIBLE = { ...pointNormal(0), log: Number.NEGATIVE_INFINITY }

/** A path one record further, not yet taught by it: most such paths are dropped before it would pay. */
interface Fork {
  readonly path: Path
  readonly log: number
  readonly oddLog: number
  /** Whether the record was a misread, was taken as predicted, or either in one where no latent is at stake. */
  readonly as: 'misread' | 'taken' | 'either'
  readonly lesson: Finding | null
}

interface Finding {
  readonly seen: Projection
  readonly variance: number
  readonly found: Truncated
}

/** The logs of chances, taken once a record. */
function logsOf(chances: Chances) {
  const { good, other, oddGood, oddOther } = chances
  return { good: Math.log(good), other: Math.log(other), oddGood: Math.log(oddGood), oddOther: Math.log(oddOther) }
}

function fork(path: Path, as: Fork['as'], log: number, oddLog: number, lesson: Finding | null = null): Fork {
  return { path, log: path.log + log, oddLog: path.oddLog + oddLog, as, lesson }
}

/** Adds the forks of one path to the list. */
function addForks(
  forks: Fork[],
  rows: Rows,
  path: Path,
  { outcome, at, repeats }: NumberStep,
  logs: Chances,
  limits: Limits,
): void {
  const { good, other, oddGood, oddOther } = logs
  if (path.misreads < limits.misreads && at.row >= 0) forks.push(fork(path, 'misread', other, oddOther))
  if (repeats && path.taken) {
    forks.push(fork(path, 'taken', good, oddGood))
    return
  }
  const { seen, mean, variance } = view(rows, path.known, at)
  const found = tellsOfNumber(outcome, mean, Math.sqrt(variance)) ?? IMPOSSIBLE
  if (seen === null) forks.push(fork(path, 'either', logAdd(good + found.log, other), logAdd(oddGood + found.log, oddOther)))
  else forks.push(fork(path, 'taken', good + found.log, oddGood + found.log, { seen, variance, found }))
}

/** A record of a number and what is predicted for it. */
export interface NumberStep {
  readonly outcome: Outcome
  readonly at: Target
  /**
   * The same display as the record before, with less fresh spread than half a step of it: if that was no misread it says nothing new
   * of the quantity, whatever the hypothesis. Without this, matching a rounding interval by a normal would let repeats add up.
   */
  readonly repeats: boolean
}

/** The paths after one record of a number: seen as predicted, or come about some other way. */
export function afterNumber(rows: Rows, paths: readonly Path[], step: NumberStep, chances: Chances, limits: Limits): Path[] {
  const logs = logsOf(chances)
  const forks: Fork[] = []
  for (const path of paths) addForks(forks, rows, path, step, logs, limits)
  return prune(forks, limits).map(({ path, log, oddLog, as, lesson }) => ({
    known: lesson === null ? path.known : learn(path.known, step.at.row, lesson.seen, lesson.variance, lesson.found),
    held: path.held,
    heldLog: path.heldLog,
    decided: path.decided,
    log,
    oddLog,
    misreads: path.misreads + (as === 'misread' ? 1 : 0),
    taken: as === 'taken',
  }))
}

/** The paths after a record that teaches nothing of the latents. */
export function afterWord(paths: readonly Path[], { other, oddOther }: Chances): Path[] {
  const log = Math.log(other)
  const oddLog = Math.log(oddOther)
  return paths.map((path) => ({ ...path, log: path.log + log, oddLog: path.oddLog + oddLog }))
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
