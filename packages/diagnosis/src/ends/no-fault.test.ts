import { expect, test } from 'vitest'
import { ASSUMPTIONS } from '@halfsplit/core'
import type { LogItem } from '../evidence.js'
import { bench, complaint, reading, seen } from '../testing/relay-lamp.js'
import { noFaultFound } from './no-fault.js'

const LIT = seen('on: look E1.light', 'bright')
const DARK = seen('on: look E1.light', 'dark')
const often = { ...complaint, howOften: 0.3 }
const end = (log: readonly LogItem[], what = often) => noFaultFound(bench, bench.standing(log, what), log)
const times = (n: number): LogItem[] => Array.from({ length: n }, () => LIT)

// 0.7^9 = 0.040 < 0.05 < 0.058 = 0.7^8
test('sometimes (3 in 10): nine good looks, not eight, are an honest end', () => {
  expect(end(times(8))).toMatchObject({ reached: false, looks: [{ good: 8, taken: 8, needed: 9 }] })
  const found = end(times(9))
  expect(found.reached).toBe(true)
  expect(found.byLuck).toBeCloseTo(0.7 ** 9, 12)
})

test('one bad look and it is none, however many good ones', () => {
  expect(end([...times(9), DARK]).reached).toBe(false)
})

test('what was excluded says how far its odds fell; what was not stands as open and comes and goes', () => {
  const { excluded, open } = end(times(9))
  expect(excluded.map(({ repair }) => repair)).toContain('replace E1')
  for (const { before, now, bits } of excluded) {
    expect(before).toBeGreaterThan(ASSUMPTIONS.clearedBelow)
    expect(now).toBeLessThanOrEqual(ASSUMPTIONS.clearedBelow)
    expect(bits).toBeCloseTo(Math.log2(before / (1 - before)) - Math.log2(now / (1 - now)), 6)
  }
  expect(open.map(({ repair }) => repair)).toContain('clean G1')
  expect(open.reduce((sum, { share }) => sum + share, 0)).toBeLessThanOrEqual(1 + 1e-9)
  expect(excluded.filter(({ repair }) => open.some((one) => one.repair === repair))).toEqual([])
})

test('what to note next time tells those still open apart', () => {
  const { logNext } = end(times(9))
  const click = logNext.find(({ probe }) => probe.look.name === 'click')
  if (!click) throw new Error('the relay is not listened to')
  expect(click.setup).toEqual({ state: 'on' })
  // A loose ground of lamp and coil leaves the relay silent; a loose feed of the lamp does not.
  const silent = click.words.find(({ repairs }) => repairs.includes('renew X1.1'))
  const clicks = click.words.find(({ repairs }) => repairs.includes('replace 4'))
  expect(silent?.word).not.toBe(clicks?.word)
})

test('a reading that shows a fault is no such end', () => {
  expect(end([DARK, reading('on: volts X1.1/a X1.1/b', 11.9)]).reached).toBe(false)
})

test('without a complaint that can be looked at there is no such end', () => {
  expect(noFaultFound(bench, bench.standing([]), [])).toMatchObject({ reached: false, byLuck: 1, looks: [], logNext: [] })
})
