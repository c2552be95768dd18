import type { Dimension } from '@halfsplit/core'
import { conditionsAt, readWatched, type System, type Watched, wordOf } from '@halfsplit/system'
import { unitOf } from '../words/user-units.js'
import type { MachineRun } from './machine-run.js'

/** One thing that is watched, row by row, on one machine. */
export interface Column {
  watched: Watched
  /** Empty for a look. */
  unit: string
  dimension?: Dimension
  /** [SI]; of a look the number of its word. NaN after the end of numbers. */
  values: readonly number[]
}

/** What was watched in a run. */
export function columnsOf(system: System, { course, rows }: MachineRun, watch: readonly Watched[]): Column[] {
  return watch.map((watched) => {
    const values = rows.map((seen) => {
      if (!seen) return Number.NaN
      const value = readWatched(system, watched, seen, conditionsAt(course, seen.time))
      return watched.watch === 'look' ? wordOf(watched.look, value) : value
    })
    if (watched.watch === 'look') return { watched, unit: '', values }
    return { watched, unit: unitOf(system, watched.dimension), dimension: watched.dimension, values }
  })
}

/** The word a look's column holds at a row; empty where there is none. */
export const wordAt = ({ watched, values }: Column, row: number): string =>
  watched.watch === 'look' ? (watched.look.words[values[row]] ?? '') : ''
