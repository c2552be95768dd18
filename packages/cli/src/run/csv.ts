import { numberIn } from '../words/user-units.js'
import { type Column, wordAt } from './columns.js'

/** A machine's columns and what its name adds to each. */
export interface ColumnSet {
  /** "" or "healthy" */
  of: string
  columns: readonly Column[]
}

/**
 * Rows of a run as comma-separated values (RFC 4180): the time [s], then what is watched in the unit of the description, machine beside
 * machine. Looks are words; nothing stands where there are no numbers.
 */
export function csvOf(times: readonly number[], sets: readonly ColumnSet[]): string {
  const watched = sets[0].columns.map((_, i) => sets.map(({ of, columns }) => ({ of, column: columns[i] })))
  const flat = watched.flat()
  const head = ['time [s]', ...flat.map(({ of, column }) => headOf(of, column))]
  const rows = times.map((time, row) => [plain(time), ...flat.map(({ column }) => cellOf(column, row))])
  return [head, ...rows].map((cells) => `${cells.map(quoted).join(',')}\r\n`).join('')
}

function headOf(of: string, { watched, unit }: Column): string {
  return `${watched.name}${of === '' ? '' : ` ${of}`}${unit === '' ? '' : ` [${unit}]`}`
}

function cellOf(column: Column, row: number): string {
  if (column.dimension === undefined) return wordAt(column, row)
  const value = column.values[row]
  return Number.isNaN(value) ? '' : plain(numberIn(value, column.dimension, column.unit))
}

/** Twelve digits: what a step added up over and over leaves behind them is nobody's. */
const plain = (x: number): string => String(Number(x.toPrecision(12)))

const quoted = (cell: string): string => (/[",\r\n]/.test(cell) ? `"${cell.replace(/"/g, '""')}"` : cell)
