/** The likelihood of a whole list of records under one cell (a hypothesis at one severity): recursion over groups, branches, misreads. */

import { type Condition, conditionsOf, hold, undecided } from './conditions.js'
import type { Branch, EvidenceRecord, OrderedGroup, Prediction } from './evidence.js'
import { logSum } from './interval.js'
import { Rows, target } from './knowledge.js'
import { afterNumber, afterWord, type Limits, type NumberStep, type Path, prune, START } from './paths.js'
import { type Chances, numberChances, wordChances } from './record-likelihood.js'

/** What is known under one cell after the evidence: a mixture of paths, and the table of rows they learnt from. */
export interface CellState {
  readonly rows: Rows
  readonly paths: readonly Path[]
  /** Natural log of the probability (density, where half-widths are 0) of the whole list. */
  readonly logLikelihood: number
  /** The same where each record may also come from something not in the description. */
  readonly oddLogLikelihood: number
}

interface Step {
  readonly chances: Chances
  /** Null for words. */
  readonly number: NumberStep | null
}

interface PreparedBranch {
  readonly steps: readonly Step[]
  readonly conditions: readonly Condition[]
}

/** Whether a record is the one before it again: records stand in order, so the same display of one point stands together. */
function isRepeat(record: EvidenceRecord, before: EvidenceRecord | undefined, freshSd: number): boolean {
  const [now, last] = [record.outcome, before?.outcome]
  if (before?.id !== record.id || now.kind !== 'number' || last?.kind !== 'number') return false
  return now.value === last.value && now.halfWidth === last.halfWidth && freshSd < now.halfWidth
}

function prepareStep(rows: Rows, record: EvidenceRecord, before: EvidenceRecord | undefined, prediction: Prediction): Step {
  if (record.outcome.kind === 'word' || prediction.kind === 'words')
    return { chances: wordChances(record, prediction), number: null }
  const { mean, sensitivities, freshSd } = prediction
  const at = target(rows, mean, sensitivities, freshSd)
  const repeats = isRepeat(record, before, freshSd)
  return { chances: numberChances(record, prediction), number: { outcome: record.outcome, at, repeats } }
}

function prepare(rows: Rows, { records, places }: OrderedGroup, { predictions, conditions }: Branch): PreparedBranch {
  if (predictions.length !== records.length)
    throw new RangeError(`${records.length} records, but ${predictions.length} predictions`)
  const steps = records.map((record, i) => prepareStep(rows, record, records[i - 1], predictions[places[i]]))
  return { steps, conditions: conditionsOf(rows, conditions) }
}

/** The path once these conditions hold as well, given all its readings. */
function withConditions(rows: Rows, path: Path, conditions: readonly Condition[]): Path {
  if (path.held.length + conditions.length === 0) return path
  const { log, needed } = hold(rows, path.known, [...path.held, ...conditions])
  const change = log - path.heldLog
  const decided = conditions.length === 0 ? path.decided : [...path.decided, ...conditions]
  return { ...path, held: needed, heldLog: log, decided, log: path.log + change, oddLog: path.oddLog + change }
}

/**
 * Paths after one branch of a group. Conditions are weighed given all readings, never the readings given a cut-off margin, which
 * would not be normal: with one or two conditions that is exact.
 */
function afterBranch(rows: Rows, start: Path, steps: readonly Step[], conditions: readonly Condition[], limits: Limits): Path[] {
  let paths: Path[] = [start]
  for (const { chances, number } of steps) {
    paths = number === null ? afterWord(paths, chances) : afterNumber(rows, paths, number, chances, limits)
  }
  return paths.map((path) => withConditions(rows, path, conditions))
}

interface WithConditions {
  readonly conditions: readonly Condition[]
}

/** A branch as seen from a path: what of its conditions is still open, and the log of their probability, not normalised. */
export interface OpenBranch {
  readonly open: readonly Condition[]
  readonly log: number
}

const EXCLUDED: OpenBranch = { open: [], log: Number.NEGATIVE_INFINITY }

/** Each branch as seen from a path before the group's own readings. */
export function openBranches(rows: Rows, path: Path, branches: readonly WithConditions[]): OpenBranch[] {
  return branches.map(({ conditions }) => {
    const open = undecided(path.decided, conditions)
    if (open === undefined) return EXCLUDED
    return { open, log: open.length === 0 ? 0 : withConditions(rows, path, open).log - path.log }
  })
}

/** Branches that are as good as impossible on a path are not followed. */
const LEAST_BRANCH = Math.log(1e-12)

function afterGroup(rows: Rows, paths: readonly Path[], branches: readonly PreparedBranch[], limits: Limits): Path[] {
  const next = paths.flatMap((path) => {
    const seen = openBranches(rows, path, branches)
    const total = logSum(seen.map(({ log }) => log))
    if (total === Number.NEGATIVE_INFINITY) return []
    const start = { ...path, log: path.log - total, oddLog: path.oddLog - total }
    return branches.flatMap(({ steps }, b) =>
      seen[b].log - total < LEAST_BRANCH ? [] : afterBranch(rows, start, steps, seen[b].open, limits),
    )
  })
  return prune(next, limits)
}

/**
 * Joint likelihood of all groups under one cell, and what they teach of the latents.
 * Cost: paths times (records known)² for each record; see `Limits`.
 */
export function cellLikelihood(
  groups: readonly OrderedGroup[],
  predict: (group: number) => readonly Branch[],
  limits: Limits,
): CellState {
  const rows = new Rows()
  let paths: Path[] = [START]
  for (const group of groups) {
    const branches = predict(group.group).map((branch) => prepare(rows, group, branch))
    paths = afterGroup(rows, paths, branches, limits)
  }
  return {
    rows,
    paths,
    logLikelihood: logSum(paths.map(({ log }) => log)),
    oddLogLikelihood: logSum(paths.map(({ oddLog }) => oddLog)),
  }
}
