import { expect, test } from 'vitest'
import { contactEvents } from './contact-events.js'

/** A log at whole seconds: `|` closed, `.` open. */
const events = (log: string, minStable: number) =>
  contactEvents(
    log.split('').map((_, second) => second),
    log.split('').map((sign) => sign === '|'),
    minStable,
  )

test('leaving the first state is a trip, coming back a reset', () => {
  expect(events('||||....||||', 3)).toEqual([
    { kind: 'trip', after: 3, before: 4 },
    { kind: 'reset', after: 7, before: 8 },
  ])
  expect(events('....||||', 3)).toEqual([{ kind: 'trip', after: 3, before: 4 }])
})

test('bounce before the new state is stable belongs to the one event', () => {
  expect(events('|||||.||..|......', 4)).toEqual([{ kind: 'trip', after: 4, before: 5 }])
})

test('a glitch that returns to the old state is no event', () => {
  expect(events('||||||.||||||', 4)).toEqual([])
})

test('a run of just the least length is stable, one sample less is not', () => {
  expect(events('|||||....', 3)).toHaveLength(1)
  expect(events('|||||...', 3)).toHaveLength(0)
})
