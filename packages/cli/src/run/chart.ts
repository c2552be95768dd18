import { type Dimension, dimensionFacts } from '@halfsplit/core'
import { type ChartLine, lineChart, type Panel } from '@halfsplit/drawing'
import { spoken } from '../words/names.js'
import { numberIn, readable } from '../words/user-units.js'
import type { Column } from './columns.js'
import type { Happening } from './happenings.js'

export interface ChartParts {
  title: string
  notes: readonly string[]
  times: readonly number[]
  columns: readonly Column[]
  /** The healthy machine's, laid beneath. */
  under?: readonly Column[]
  happenings: readonly Happening[]
}

/** More marks than this are no help on one sheet. */
const MOST_MARKS = 30

/** A run as a chart: a panel for each quantity, one for each look. */
export function chartOf({ title, notes, times, columns, under, happenings }: ChartParts): string {
  const panels = new Map<string, Panel>()
  columns.forEach((column, i) => {
    const line = lineOf(column, under?.[i])
    const { watched, dimension, unit } = column
    if (watched.watch === 'look') {
      panels.set(watched.name, {
        title: `${watched.part}, ${spoken(watched.look.name)}`,
        words: watched.look.words,
        lines: [line],
      })
    } else {
      const known = panels.get(`${dimension}`)
      const head = `${plainName(dimension as Dimension)}, ${unit}`
      panels.set(`${dimension}`, { title: head, lines: [...(known?.lines ?? []), line] })
    }
  })
  const marks = happenings.map(({ time, text }) => ({ time, text }))
  const left = marks.length - MOST_MARKS
  const more = left > 0 ? [`${left} later events are not marked`] : []
  return lineChart({ title, notes: [...notes, ...more], times, panels: [...panels.values()], marks: marks.slice(0, MOST_MARKS) })
}

const plainName = (dimension: Dimension): string => dimensionFacts(dimension).name.replace(/^an? /, '')

function lineOf(column: Column, under: Column | undefined): ChartLine {
  const line = { name: column.watched.name, values: numbers(column) }
  return under ? { ...line, under: numbers(under) } : line
}

function numbers({ dimension, unit, values }: Column): number[] {
  return values.map((value) =>
    dimension === undefined || Number.isNaN(value) ? value : numberIn(readable(value, dimension), dimension, unit),
  )
}
