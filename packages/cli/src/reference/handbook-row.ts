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

/** A meaning in the project's words, one of a list: a published text must mean this entry and none of the others. */
export interface Sense {
  sense: string
  among: readonly string[]
}

/**
 * What the project says: a number with unit (of which a published maximum may be `least` to `most` times as much), a meaning, a
 * word.
 */
export type Answer = (Amount & { surplus?: { least: number; most: number } }) | Sense | string | boolean

/**
 * The project's answers to the expected names of a row, or why it has none. `all` are the rows of the file: some rest on given
 * facts.
 */
export type Topic = (row: Row, all: readonly Row[]) => Record<string, Answer> | { cannot: string }

/** What a topic says of a row. */
export type Answers = ReturnType<Topic>

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

/** A sort of row: the inputs it has (others may stand beside them), what its words say, and what the project answers. */
export interface RowSort {
  inputs?: readonly string[]
  words?: RegExp
  answer: Topic
}

/**
 * A topic as a list of sorts of rows, the first that fits speaks; `otherwise` is why the project has nothing to say of other
 * rows.
 */
export function sorts(list: readonly RowSort[], otherwise: string): Topic {
  return (row, all) => {
    const given = row.input ?? {}
    const sort = list.find(({ inputs = [], words }) => inputs.every((name) => name in given) && (words?.test(row.what) ?? true))
    return sort ? sort.answer(row, all) : { cannot: otherwise }
  }
}

/** The same value under each of several names that rows give it. */
export function named(value: number, unit: string, ...names: string[]): Record<string, Answer> {
  return Object.fromEntries(names.map((name) => [name, { value, unit }]))
}

/** A number said in the words of a row, in a unit that follows it there; NaN without one. */
export function said(row: Row, pattern: RegExp, from: string, to: string): number {
  const digits = pattern.exec(row.what)?.[1]
  return digits === undefined ? Number.NaN : convert(Number(digits), from, to)
}
