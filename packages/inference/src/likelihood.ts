/** The likelihood of a whole list of records under one cell (a hypothesis at one severity): recursion over groups, branches, misreads. */

import type { Branch, EvidenceRecord, OrderedGroup } from './evidence.js'
import { logSum } from './interval.js'
import { Rows } from './knowledge.js'
import {
  afterNumber,
  afterWord,
  type Condition,
  conditionsOf,
  given,
  type Limits,
  type Path,
  prune,
  START,
  type Target,
  target,
} from './paths.js'
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
  readonly record: EvidenceRecord
  readonly chances: Chances
  /** Null for words. */
  readonly at: Target | null
}

interface PreparedBranch {
  readonly steps: readonly Step[]
  readonly conditions: readonly Condition[]
}

function prepare(rows: Rows, { records, places }: OrderedGroup, { predictions, conditions }: Branch): PreparedBranch {
  if (predictions.length !== records.length)
    throw new RangeError(`${records.length} records, but ${predictions.length} predictions`)
  const steps = records.map((record, i): Step => {
    const prediction = predictions[places[i]]
    if (record.outcome.kind === 'word' || prediction.kind === 'words')
      return { record, chances: wordChances(record, prediction), at: null }
    const { mean, sensitivities, freshSd } = prediction
    return { record, chances: numberChances(record, prediction), at: target(rows, mean, sensitivities, freshSd) }
  })
  return { steps, conditions: conditionsOf(rows, conditions) }
}

/**
 * Paths after one branch of a group. The records are learnt first and the conditions then, given the records: with one condition
 * that is exact, while the records given a cut-off margin would not be normal.
 */
function afterBranch(start: Path, { steps, conditions }: PreparedBranch, limits: Limits): Path[] {
  let paths: Path[] = [start]
  for (const { record, chances, at } of steps) {
    paths = at === null ? afterWord(paths, chances) : afterNumber(paths, record.outcome, at, chances, limits)
  }
  return conditions.length === 0 ? paths : paths.map((path) => given(path, conditions))
}

/** log of the sum over branches of the probability of their conditions as seen from a path: what the weights are divided by. */
function logTotal(path: Path, branches: readonly { readonly conditions: readonly Condition[] }[]): number {
  if (branches.every(({ conditions }) => conditions.length === 0)) return Math.log(branches.length)
  return logSum(branchLogs(path, branches))
}

/** Log probability of each branch's conditions as seen from a path, not normalised. */
export function branchLogs(path: Path, branches: readonly { readonly conditions: readonly Condition[] }[]): number[] {
  return branches.map(({ conditions }) => given({ ...path, log: 0 }, conditions).log)
}

function afterGroup(paths: readonly Path[], branches: readonly PreparedBranch[], limits: Limits): Path[] {
  const next = paths.flatMap((path) => {
    const total = logTotal(path, branches)
    if (total === Number.NEGATIVE_INFINITY) return []
    const start = { ...path, log: path.log - total, oddLog: path.oddLog - total }
    return branches.flatMap((branch) => afterBranch(start, branch, limits))
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
    paths = afterGroup(paths, branches, limits)
  }
  return {
    rows,
    paths,
    logLikelihood: logSum(paths.map(({ log }) => log)),
    oddLogLikelihood: logSum(paths.map(({ oddLog }) => oddLog)),
  }
}
