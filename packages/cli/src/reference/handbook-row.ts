import { convert } from '@halfsplit/core'

/** A number of a handbook file, with its UCUM unit. */
export interface Amount {
  value: number
  unit: string
}

/** A row of a handbook file of format halfsplit-handbook-check/1. */
export interface Row {
  id: string
  what: string
  input?: Record<string, Amount | string>
  expected: Record<string, Amount | string | boolean>
  tolerance: 'exact' | 'one-sided' | 'text' | { rel?: number; abs?: Amount }
  confidence?: 'high' | 'medium' | 'low'
  note?: string
}

/** What the project says: a number with unit, or ideal copper of which a published maximum is `atLeast` to `atMost` times as much. */
export type Answer = (Amount & { surplus?: { least: number; most: number } }) | string | boolean

/** The project's answers to the expected names of a row, or why it has none. `all` are the rows of the file: some rest on given facts. */
export type Topic = (row: Row, all: readonly Row[]) => Record<string, Answer> | { cannot: string }

/** An input in a unit; a temperature is a reading on its scale. Undefined where the row has no such number. */
export function inputIn(row: Row, name: string, unit: string): number | undefined {
  const amount = row.input?.[name]
  return typeof amount === 'object' ? convert(amount.value, amount.unit, unit) : undefined
}

/** The same, and NaN where the row has no such number: an answer made of it counts as none. */
export function number(row: Row, name: string, unit: string): number {
  return inputIn(row, name, unit) ?? Number.NaN
}

/** Whether the row has exactly these inputs. */
export function hasInputs(row: Row, ...names: string[]): boolean {
  return (
    Object.keys(row.input ?? {})
      .sort()
      .join() === names.sort().join()
  )
}
