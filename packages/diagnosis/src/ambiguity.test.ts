import { expect, test } from 'vitest'
import { readingSupport } from './ambiguity.js'
import { bench, complaint, reading, seen } from './testing/relay-lamp.js'

const DROP = reading('on: volts X1.1/a X1.1/b', 11.9)

test('what readings say for a repair does not depend on how many looks the complaint ties together', () => {
  const [show] = complaint.shows
  const apart = (shows: typeof complaint.shows) => {
    const support = readingSupport(bench.standing([DROP], { shows }))
    return (support.get('renew X1.1') ?? 0) - (support.get('replace E1') ?? 0)
  }
  const relay = { state: 'on', part: 'K1', look: 'click', word: 'at rest' }
  const one = apart([show])
  expect(one).toBeGreaterThan(10)
  expect(apart([show, relay])).toBeCloseTo(one, 3)
  expect(apart([])).toBeCloseTo(one, 3)
})

test('a drop over one contact tells its repair from that of the next', () => {
  const support = readingSupport(bench.standing([seen('on: look E1.light', 'dark'), DROP], complaint))
  expect((support.get('renew X1.1') ?? 0) - (support.get('renew X1.2') ?? 0)).toBeGreaterThan(10)
})
