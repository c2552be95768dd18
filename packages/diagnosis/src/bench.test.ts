import { describe, expect, test } from 'vitest'
import type { LogItem } from './evidence.js'
import { bench, complaint, reading, seen } from './testing/relay-lamp.js'

const DARK = seen('on: look E1.light', 'dark')
const LIT = seen('on: look E1.light', 'bright')
/** Nearly all of the supply lies across one contact of the plug: the relay's coil gets none. */
const DROP = reading('on: volts X1.1/a X1.1/b', 11.9)
const RENEWED: LogItem = { kind: 'repaired', repairs: ['renew X1.1'] }
const PULLED: LogItem = { kind: 'disturbed', parts: ['X1'] }

const standing = (...log: LogItem[]) => bench.standing(log, complaint)
const believed = (repair: string, ...log: LogItem[]): number =>
  standing(...log).repairs.find((one) => one.repair === repair)?.probability ?? 0

describe('belief through actions', () => {
  test('a drop of the whole supply over a contact makes it the first suspect', () => {
    const [first] = standing(DARK, DROP).repairs
    expect(first.repair).toBe('renew X1.1')
    expect(first.probability).toBeGreaterThan(0.8)
  })

  test('a contact was renewed and the lamp is still dark: belief moves away from it', () => {
    expect(believed('renew X1.1', DARK, DROP, RENEWED, DARK)).toBeLessThan(believed('renew X1.1', DARK, DROP) / 2)
    expect(believed('renew X1.1', DARK, RENEWED, DARK)).toBeLessThan(believed('renew X1.1', DARK) / 10)
  })

  test('a contact was renewed and the lamp is lit: it was the contact', () => {
    expect(believed('renew X1.1', DARK, DROP, RENEWED, LIT)).toBeGreaterThan(believed('renew X1.1', DARK, DROP))
  })

  test('a plug was pulled, put back, and the lamp is lit: its contacts stay suspect, more than had nobody touched it', () => {
    expect(believed('renew X1.1', DARK, DROP, PULLED, LIT)).toBeGreaterThan(0.8)
    expect(believed('renew X1.1', DARK, PULLED, LIT)).toBeGreaterThan(2 * believed('renew X1.1', DARK, LIT))
  })

  test('what was done is kept in its order, and readings know what came before them', () => {
    const { actions, groups } = standing(DARK, PULLED, DROP, RENEWED, LIT)
    expect(actions).toEqual([PULLED, RENEWED])
    expect(groups.map(({ segment }) => segment)).toEqual([0, 1, 2])
  })
})

test('what an earlier job makes of a fault weighs from the first look on', () => {
  const fault = bench.faults.find(({ id }) => id === 'X1.1.high_resistance_contact')
  const of = (priorFactors?: Record<string, number>) =>
    bench.standing([DARK], { ...complaint, priorFactors }).repairs.find(({ repair }) => repair === fault?.repair)?.probability ??
    0
  const [before, after] = [of(), of({ 'X1.1.high_resistance_contact': 20 })]
  expect(after).toBeGreaterThan(3 * before)
  expect(of({ 'X1.1.high_resistance_contact': 0.01 })).toBeLessThan(before)
  expect(of({ 'X1.1.high_resistance_contact': 1 })).toBeCloseTo(before, 12)
})

test('beliefs in hypotheses and in what is not described sum to one', () => {
  const { belief, notDescribed } = standing(DARK, DROP, PULLED, LIT)
  expect(belief.probability.reduce((sum, one) => sum + one, notDescribed)).toBeCloseTo(1, 9)
})

test('a complaint of parts or looks that are not there is refused', () => {
  const shows = [{ state: 'on', part: 'E9', look: 'light', word: 'dark' }]
  expect(() => bench.standing([], { shows })).toThrow(/E9\.light/)
})
