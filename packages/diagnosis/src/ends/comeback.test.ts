import { describe, expect, test } from 'vitest'
import { ASSUMPTIONS } from '@halfsplit/core'
import type { LogItem } from '../evidence.js'
import { bench, complaint, reading, seen } from '../testing/relay-lamp.js'
import { priorFactors } from './comeback.js'

const DARK = seen('on: look E1.light', 'dark')
const LIT = seen('on: look E1.light', 'bright')
const DROP = reading('on: volts X1.1/a X1.1/b', 11.9)
const RENEWED: LogItem = { kind: 'repaired', repairs: ['renew X1.1'] }
const MONTH = ASSUMPTIONS.noticedExposure * 365.25

const proved = bench.standing([DARK, DROP, RENEWED, LIT], complaint)
const unproved = bench.standing([DARK, DROP, RENEWED], complaint)
const swapped = bench.standing([DARK, { kind: 'repaired', repairs: ['replace E1'] }, DARK], complaint)

describe('what an earlier job makes of the prior', () => {
  test('a fault that was not there then and is noticed at once: a month later as likely as ever, next day 30 times less', () => {
    const monthOn = priorFactors(bench, proved, MONTH).get('E1.filament_open') ?? 1
    expect(monthOn).toBeGreaterThan(0.95)
    expect(monthOn).toBeLessThan(1.4)
    const nextDay = priorFactors(bench, proved, 1).get('E1.filament_open') ?? 1
    expect(nextDay).toBeGreaterThan(1 / 40)
    expect(nextDay).toBeLessThan(1 / 4)
  })

  test('old evidence against a fault wears off with the time it has had to come in', () => {
    const factors = [1, 7, 30, 365].map((days) => priorFactors(bench, proved, days).get('E1.filament_open') ?? 1)
    expect([...factors].sort((p, q) => p - q)).toEqual(factors)
  })

  test('a repair that was not proved leaves its part more suspect than one that was', () => {
    const factor = (then: typeof proved) => priorFactors(bench, then, 1).get('X1.1.high_resistance_contact') ?? 1
    expect(factor(unproved)).toBeGreaterThan(factor(proved))
  })

  test('what was still wrong when the machine left is what it comes back with', () => {
    const factors = priorFactors(bench, swapped, 3)
    expect(factors.get('X1.1.open_contact')).toBeGreaterThan(10)
    expect(factors.get('X1.1.open_contact')).toBeGreaterThan(10 * (factors.get('E1.filament_open') ?? 1))
  })

  test('errors of building at the part worked on count, though nobody else worked on it', () => {
    const diode = bench.standing([DARK, { kind: 'repaired', repairs: ['replace D1'] }, LIT], complaint)
    const [byHand] = bench.faults.filter(({ part, mode }) => part.name === 'D1' && mode.byHand)
    expect(priorFactors(bench, diode, 1).get(byHand.id)).toBeGreaterThan(5)
  })

  test('a hidden fault that the old job left alone keeps its prior', () => {
    expect(priorFactors(bench, proved, 1).get('D1.open') ?? 1).toBeGreaterThanOrEqual(1)
  })

  test('an age below zero is refused', () => {
    expect(() => priorFactors(bench, proved, -1)).toThrow(/0 days or more/)
  })
})
