/** Reads a job from text: every mistake of the file in one go, each with its place. */

import { type Issue, type IssueCodeEntry, issue, nearestNames, type Position } from '@halfsplit/core'
import type * as z from 'zod'
import { type Entry, ENTRY_KINDS } from './entry.js'
import { type Job, JOB_FORMAT, JOB_KEYS, jobSchema } from './job.js'
import { jsonPlaces, type Path, placeKey, type Range } from './json-places.js'

/** What reading a job may find wrong: meaning and remedy of each code. */
export const JOB_ISSUE_CODES = {
  JOB_TOO_LARGE: { meaning: 'the job file is larger than any job', remedy: 'check that this is the job file' },
  JOB_NOT_JSON: { meaning: 'the job file is not JSON', remedy: 'restore the file, or correct it at the place named' },
  JOB_FORMAT_UNKNOWN: {
    meaning: 'the job file has a form this version does not know',
    remedy: `use a job of the form ${JOB_FORMAT}`,
  },
  JOB_KEY_UNKNOWN: { meaning: 'a key is not known here', remedy: 'use one of the nearest names, or take the key out' },
  JOB_VALUE_WRONG: { meaning: 'a value is missing or not what stands here', remedy: 'give what is expected' },
  JOB_UNDO_WRONG: { meaning: 'an undo names no entry before it', remedy: 'name the number of an earlier entry; the first is 1' },
  JOB_INTERVAL_REVERSED: { meaning: 'the low end of an interval is above the high end', remedy: 'exchange the two' },
} satisfies Record<string, IssueCodeEntry>

type JobIssueCode = keyof typeof JOB_ISSUE_CODES

/** A job of many thousand entries is still smaller [UTF-16 units]. */
const LARGEST = 2_000_000

/** The job, or the mistakes that keep the text from being one. */
export type ParsedJob =
  | { readonly job: Job; readonly issues: readonly [] }
  | { readonly job: null; readonly issues: readonly Issue[] }

/** Turns places in the text into positions in the file. */
class Source {
  private readonly lineStarts: number[] = [0]

  constructor(
    readonly file: string,
    text: string,
    private readonly ranges: ReadonlyMap<string, Range>,
  ) {
    for (let i = text.indexOf('\n'); i >= 0; i = text.indexOf('\n', i + 1)) this.lineStarts.push(i + 1)
  }

  at({ start, end }: Range): Position {
    let line = this.lineStarts.length - 1
    while (this.lineStarts[line] > start) line--
    const lineEnd = this.lineStarts[line + 1] ?? Number.POSITIVE_INFINITY
    return {
      file: this.file,
      line: line + 1,
      column: start - this.lineStarts[line] + 1,
      length: Math.max(1, Math.min(end, lineEnd - 1) - start),
    }
  }

  /** Position of a value, or of the nearest value around it where it is missing. */
  of(path: Path): Position {
    for (let depth = path.length; depth >= 0; depth--) {
      const range = this.ranges.get(placeKey(path.slice(0, depth)))
      if (range !== undefined) return this.at(range)
    }
    return this.at({ start: 0, end: 1 })
  }
}

function found(code: JobIssueCode, message: string, position: Position, details: Partial<Issue> = {}): Issue {
  return issue(code, message, { position, fix: JOB_ISSUE_CODES[code].remedy, ...details })
}

function pathName(path: Path): string {
  return path.length === 0 ? 'the job' : path.map(String).join('.')
}

/** What a schema issue expected, in words. */
function expectation(wrong: z.core.$ZodIssue): string {
  switch (wrong.code) {
    case 'invalid_type':
      return wrong.expected === 'string' ? 'text' : `a value of type ${wrong.expected}`
    case 'invalid_value':
      return wrong.values.map((value) => JSON.stringify(value)).join(', ')
    case 'too_small':
      return wrong.origin === 'string'
        ? 'text that is not empty'
        : `at least ${wrong.minimum}${wrong.origin === 'array' ? ' of them' : ''}`
    case 'too_big':
      return `at most ${wrong.maximum}${wrong.origin === 'array' ? ' of them' : ''}`
    case 'invalid_union':
      return 'a kind that is known here'
    default:
      return wrong.message
  }
}

function received(value: unknown): string {
  return value === undefined ? 'nothing' : JSON.stringify(value).slice(0, 60)
}

function valueAt(root: unknown, path: Path): unknown {
  return path.reduce<unknown>(
    (value, key) => (typeof value === 'object' && value !== null ? new Map(Object.entries(value)).get(String(key)) : undefined),
    root,
  )
}

function schemaIssues(wrong: z.core.$ZodIssue, root: unknown, source: Source): Issue[] {
  const { path } = wrong
  if (wrong.code === 'unrecognized_keys') {
    return wrong.keys.map((key) =>
      found('JOB_KEY_UNKNOWN', `unknown key '${key}' in ${pathName(path)}`, source.of([...path, key]), {
        received: key,
        nearest: nearestNames(key, JOB_KEYS),
      }),
    )
  }
  const value = valueAt(root, path)
  if (path.length === 1 && path[0] === 'format' && typeof value === 'string') {
    return [
      found('JOB_FORMAT_UNKNOWN', `unknown form of job '${value}'`, source.of(path), { expected: JOB_FORMAT, received: value }),
    ]
  }
  const names = wrong.code === 'invalid_value' ? wrong.values.map(String) : wrong.code === 'invalid_union' ? ENTRY_KINDS : []
  const nearest = typeof value === 'string' ? nearestNames(value, names) : []
  return [
    found('JOB_VALUE_WRONG', `wrong value of ${pathName(path)}`, source.of(path), {
      expected: expectation(wrong),
      received: received(value),
      ...(nearest.length > 0 ? { nearest } : {}),
    }),
  ]
}

/** Mistakes between values that each are well formed. */
function meaningIssues({ entries, comebackOf }: Job, source: Source): Issue[] {
  return [
    ...(comebackOf ? entryIssues(comebackOf.entries, ['comebackOf', 'entries'], source) : []),
    ...entryIssues(entries, ['entries'], source),
  ]
}

/** @param at where the list of entries stands in the job */
function entryIssues(entries: readonly Entry[], at: Path, source: Source): Issue[] {
  return entries.flatMap((entry, i) => {
    if (entry.kind === 'undo' && entry.entry > i) {
      const expected = i === 0 ? 'an entry before it' : `a number from 1 to ${i}`
      return [
        found('JOB_UNDO_WRONG', `undo of entry ${entry.entry}, which is not before it`, source.of([...at, i, 'entry']), {
          expected,
          received: String(entry.entry),
        }),
      ]
    }
    if (entry.kind === 'reading' && entry.shown.kind === 'interval' && entry.shown.low > entry.shown.high) {
      const { low, high } = entry.shown
      return [
        found('JOB_INTERVAL_REVERSED', 'interval with its low end above its high end', source.of([...at, i, 'shown']), {
          received: `${low} to ${high}`,
        }),
      ]
    }
    return []
  })
}

/**
 * Reads a job. Never throws on what the user wrote: all mistakes are collected, each with file, line and column, what was expected,
 * what was received, and the nearest names.
 * @param text of the file   @param file its name, for messages only
 */
export function parseJob(text: string, file = 'job.json'): ParsedJob {
  const places = text.length > LARGEST ? null : jsonPlaces(text)
  const source = new Source(file, text, places?.ok ? places.ranges : new Map())
  if (places === null) {
    const sizes = { expected: `at most ${LARGEST} characters`, received: `${text.length} characters` }
    return { job: null, issues: [found('JOB_TOO_LARGE', 'job file is too large', source.of([]), sizes)] }
  }
  if (!places.ok) {
    const at = source.at({ start: places.offset, end: places.offset + 1 })
    const seen = text[places.offset] === undefined ? 'the end of the file' : JSON.stringify(text[places.offset])
    return {
      job: null,
      issues: [found('JOB_NOT_JSON', 'job file is not JSON', at, { expected: places.expected, received: seen })],
    }
  }
  const root: unknown = JSON.parse(text)
  const result = jobSchema.safeParse(root)
  const issues = result.success
    ? meaningIssues(result.data, source)
    : result.error.issues.flatMap((wrong) => schemaIssues(wrong, root, source))
  return result.success && issues.length === 0 ? { job: result.data, issues: [] } : { job: null, issues }
}
