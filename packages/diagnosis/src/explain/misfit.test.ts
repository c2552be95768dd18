import { describe, expect, test } from 'vitest'
import { moments } from '@halfsplit/inference'
import { bench, complaint, reading, seen } from '../testing/relay-lamp.js'
import { fit, slipChance } from './misfit.js'

const DARK = seen('on: look E1.light', 'dark')
const SUPPLY = reading('key: volts F1.b BAT.minus', 12.5)
const DROP = reading('on: volts X1.1/a X1.1/b', 11.9)
/** With the lamp dark and 12.5 V at the fuse no fault of this machine leaves 5.1 V here. */
const ODD = reading('key: volts S1.a BAT.minus', 5.1)

const fitOf = (...log: Parameters<typeof bench.standing>[0]) => fit(bench.standing(log, complaint), log)

describe('how the readings fit together', () => {
  test('readings that one fault explains fit', () => {
    const found = fitOf(DARK, SUPPLY, DROP)
    expect(found.verdict).toBe('fits')
    expect(found.slips).toBeLessThan(0.2)
  })

  test('one reading that no fault explains is asked for again, and what the others expect there is said', () => {
    const found = fitOf(DARK, SUPPLY, DROP, ODD)
    expect(found.verdict).toBe('take again')
    const [worst] = found.records
    expect(worst.record.id).toBe('volts S1.a BAT.minus')
    expect(worst.slip).toBeGreaterThan(0.7)
    const expected = moments(worst.expected)
    expect(expected?.mean).toBeGreaterThan(11.5)
    expect(expected?.sd).toBeLessThan(1)
  })

  test('two readings that no fault explains: it is not in this description', () => {
    expect(fitOf(DARK, SUPPLY, DROP, ODD, reading('on: volts S1.b BAT.minus', 7.3)).verdict).toBe('not described')
  })

  test('an odd reading taken again that shows what the others expect is settled: nothing more is asked for', () => {
    const again = fitOf(DARK, SUPPLY, DROP, ODD, reading('key: volts S1.a BAT.minus', 12.5))
    expect(again.verdict).toBe('fits')
    const odd = again.records.filter((one) => one.again === 'settled')
    expect(odd.map(({ record }) => record.id)).toEqual(['volts S1.a BAT.minus', 'volts S1.a BAT.minus'])
    expect(Math.max(...odd.map(({ slip }) => slip))).toBeGreaterThan(0.9)
  })

  test('an odd reading taken again with the same result is no slip any more', () => {
    const again = fitOf(DARK, SUPPLY, DROP, ODD, ODD)
    const odd = again.records.find(({ record }) => record.id === 'volts S1.a BAT.minus')
    expect(odd?.slip).toBeLessThan(0.2)
  })

  test('an odd look taken again that shows the same is confirmed, and not asked for a third time', () => {
    const lit = seen('on: look E1.light', 'bright')
    const dead = reading('on: volts E1.feed BAT.minus', 0.002)
    const odd = (...log: Parameters<typeof bench.standing>[0]) =>
      fitOf(...log).records.find(({ record }) => record.id === 'look E1.light')?.again
    expect(odd(lit, dead)).toBe('open')
    expect(odd(lit, dead, lit)).toBe('confirmed')
  })

  test('every reading taken again, and still they contradict each other: it is not in this description', () => {
    expect(fitOf(SUPPLY, SUPPLY, DROP, DROP, ODD, ODD).verdict).toBe('not described')
  })
})

describe('chance of a slip, by hand', () => {
  test('a word that was 1 in 10 to be heard: 0.05 wrong, two words', () => {
    const record = { id: 'l', outcome: { kind: 'word', word: 0, words: 2 }, error: 0.05 } as const
    // chance = 0.95 P + 0.05 (1 - P) = 0.1, so P = 0.05 / 0.9; slip = 0.05 (1 - P) / 0.1
    expect(slipChance(record, 0.1)).toBeCloseTo((0.05 * (1 - 0.05 / 0.9)) / 0.1, 12)
  })

  test('a number spread over 60 V, in steps of 0.01 V, that the others gave 1 in 10 000', () => {
    const record = {
      id: 'n',
      outcome: { kind: 'number', value: 3, halfWidth: 0.005 },
      error: 0.02,
      range: { low: 0, high: 60 },
    } as const
    expect(slipChance(record, 1e-4)).toBeCloseTo((0.02 * (0.01 / 60)) / 1e-4, 12)
  })

  test('a record that cannot be wrong is no slip', () => {
    expect(slipChance({ id: 'c', outcome: { kind: 'word', word: 0, words: 2 }, error: 0 }, 0.1)).toBe(0)
  })
})
