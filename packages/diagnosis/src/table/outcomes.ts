import { ASSUMPTIONS } from '@halfsplit/core'
import { type Predictive, withMisread } from '@halfsplit/inference'
import { misreadRange } from '../evidence.js'
import { displayOf } from '../next.js'
import type { TestProbe } from '../probe.js'
import { candidateCuts, sharesBetween } from './bins.js'
import { mergeOutcomes } from './merge.js'

/** What may come out of a test, as far as it matters: words of a look, or a stretch of the reading [SI], its upper end not included. */
export type TableOutcome = { kind: 'words'; words: readonly string[] } | { kind: 'reading'; low: number; high: number }

/** A test's outcomes with their chances under each cell. */
export interface TestOutcomes {
  outcomes: readonly TableOutcome[]
  /** By cell: chances, with misreads, of sum 1. */
  rows: readonly Float64Array[]
  /** What the outcomes tell about the repair [bit]. */
  information: number
}

/** A cell as its test sees it. */
export interface SeenCell {
  probability: number
  /** Number of the repairs it needs, equal for equal repairs. */
  class: number
  predictive: Predictive
}

/** Outcomes kept of one test. */
const MOST_OUTCOMES = 4

/**
 * The outcomes of a test that tell the repairs still believed from each other: its words, or stretches of the reading cut where the
 * suspects' distributions part, neighbours merged that say the same. Chances are integrals between the cuts.
 */
export function outcomesOf(probe: TestProbe, cells: readonly SeenCell[], classes: number): TestOutcomes {
  if (probe.kind === 'look') {
    const { words } = probe.look
    const rows = cells.map(({ predictive }) => whole(withMisread(predictive, ASSUMPTIONS.lookError).words, words.length))
    return merged(rows, cells, classes, (from, to) => ({ kind: 'words', words: words.slice(from, to) }))
  }
  const [heaviest] = cells
  const display = displayOf(probe, [{ id: '', probability: heaviest.probability, predictive: heaviest.predictive }])
  const cuts = candidateCuts(cells, display)
  const range = misreadRange(probe)
  const rows = cells.map(({ predictive }) =>
    whole(sharesBetween(withMisread(predictive, ASSUMPTIONS.misread, range), cuts), cuts.length + 1),
  )
  return merged(rows, cells, classes, (from, to) => ({
    kind: 'reading',
    low: from === 0 ? Number.NEGATIVE_INFINITY : cuts[from - 1],
    high: to > cuts.length ? Number.POSITIVE_INFINITY : cuts[to - 1],
  }))
}

/** Shares of sum 1; what predicts nothing at all (a cell without a path) may show anything. */
function whole(shares: ArrayLike<number>, length: number): Float64Array {
  let sum = 0
  for (let i = 0; i < shares.length; i++) sum += shares[i]
  return Float64Array.from({ length }, (_, i) => (sum > 0 ? (shares[i] ?? 0) / sum : 1 / length))
}

function merged(
  fine: readonly Float64Array[],
  cells: readonly SeenCell[],
  classes: number,
  outcomeAt: (from: number, to: number) => TableOutcome,
): TestOutcomes {
  const count = fine[0].length
  const joint = Array.from({ length: count }, () => new Float64Array(classes))
  const total = cells.reduce((sum, { probability }) => sum + probability, 0)
  for (const [i, cell] of cells.entries())
    for (let o = 0; o < count; o++) joint[o][cell.class] += (cell.probability / total) * fine[i][o]
  const { first, information } = mergeOutcomes(joint, MOST_OUTCOMES)
  const ends = [...first.slice(1), count]
  return {
    outcomes: first.map((from, k) => outcomeAt(from, ends[k])),
    rows: fine.map((row) => Float64Array.from(first, (from, k) => sumOf(row, from, ends[k]))),
    information,
  }
}

function sumOf(row: Float64Array, from: number, to: number): number {
  let sum = 0
  for (let i = from; i < to; i++) sum += row[i]
  return sum
}
