import * as fc from 'fast-check'
import { expect, test } from 'vitest'
import { ACTIONS, type Entry, INTERVENTIONS, type Job, parseJob, type Shown, serialiseJob } from './index.js'

const nameArb = fc.string({ minLength: 1, maxLength: 12, unit: 'grapheme' })
/** JSON has one zero. */
const numberArb = fc.double({ noNaN: true, noDefaultInfinity: true }).map((x) => (x === 0 ? 0 : x))
const optional = <T>(value: fc.Arbitrary<T>) => fc.option(value, { nil: undefined })
const record = <T extends object>(fields: { [K in keyof T]: fc.Arbitrary<T[K]> }) =>
  fc.record(fields).map((value) => Object.fromEntries(Object.entries(value).filter(([, v]) => v !== undefined)) as T)

const setupArb = record({
  state: nameArb,
  interventions: optional(fc.array(record({ do: fc.constantFrom(...INTERVENTIONS), target: nameArb }), { maxLength: 2 })),
})
const shownArb: fc.Arbitrary<Shown> = fc.oneof(
  record({
    kind: fc.constant('value' as const),
    value: numberArb,
    unit: nameArb,
    decimals: optional(fc.integer({ min: 0, max: 9 })),
  }),
  record({
    kind: fc.constant('over-range' as const),
    side: optional(fc.constantFrom('high' as const, 'low' as const)),
    unit: nameArb,
  }),
  fc
    .tuple(numberArb, numberArb, nameArb)
    .map(([a, b, unit]) => ({ kind: 'interval' as const, low: Math.min(a, b), high: Math.max(a, b), unit })),
  record({ kind: fc.constant('unsteady' as const), unit: nameArb }),
)
const at = optional(fc.string())
const entryArb: fc.Arbitrary<Entry> = fc.oneof(
  record({
    kind: fc.constant('reading' as const),
    setup: setupArb,
    probe: nameArb,
    shown: shownArb,
    meter: optional(nameArb),
    at,
  }),
  record({ kind: fc.constant('look' as const), setup: setupArb, observable: nameArb, word: nameArb, at }),
  record({ kind: fc.constant('could-not' as const), test: nameArb, why: optional(fc.string()), at }),
  record({ kind: fc.constant('action' as const), do: fc.constantFrom(...ACTIONS), target: nameArb, at }),
  record({ kind: fc.constant('repair' as const), repair: nameArb, parts: fc.array(nameArb, { minLength: 1, maxLength: 3 }), at }),
  record({ kind: fc.constant('found' as const), part: optional(nameArb), text: nameArb, at }),
)
const jobArb: fc.Arbitrary<Job> = fc
  .tuple(
    nameArb,
    fc.string(),
    nameArb,
    fc.string(),
    fc.array(entryArb, { maxLength: 8 }),
    fc.array(fc.nat(), { maxLength: 3 }),
    fc.option(fc.nat()),
  )
  .map(([name, machine, meter, words, entries, undone, ageDays]) => ({
    format: 'halfsplit-job/1',
    machine,
    description: { name },
    complaint: { words },
    meter,
    ...(ageDays === null ? {} : { comebackOf: { ageDays, complaint: { words }, entries } }),
    entries: [
      ...entries,
      ...undone.filter(() => entries.length > 0).map((n): Entry => ({ kind: 'undo', entry: 1 + (n % entries.length) })),
    ],
  }))

test('a stored job reopens unchanged, and stores the same again', () => {
  fc.assert(
    fc.property(jobArb, (job) => {
      const text = serialiseJob(job)
      const { job: reopened, issues } = parseJob(text)
      expect(issues).toEqual([])
      expect(reopened).toEqual(job)
      expect(serialiseJob(reopened ?? job)).toBe(text)
    }),
  )
})

test('no text makes the reader throw, and what is no job has an issue with a place', () => {
  fc.assert(
    fc.property(
      fc.oneof(
        fc.string(),
        fc.json(),
        jobArb.map(serialiseJob).chain((text) => fc.nat(text.length).map((cut) => text.slice(0, cut))),
      ),
      (text) => {
        const { job, issues } = parseJob(text)
        expect(issues.every(({ position }) => position !== undefined && position.line >= 1 && position.column >= 1)).toBe(true)
        expect(job === null).toBe(issues.length > 0)
      },
    ),
  )
})
