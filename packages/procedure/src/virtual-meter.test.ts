import { createRandom, DEFAULT_METERS } from '@halfsplit/core'
import type { TestProbe } from '@halfsplit/diagnosis'
import { describe, expect, test } from 'vitest'
import { MeterSet } from './virtual-meter.js'

type Probe = Exclude<TestProbe, { kind: 'look' }>

const VOLTS: Probe = { kind: 'volts', red: 'BAT.plus', black: 'BAT.minus', meter: DEFAULT_METERS.volts }
const OHMS: Probe = { kind: 'ohms', part: 'F1', red: 'a', black: 'b', meter: DEFAULT_METERS.ohms }

const metersOf = (seed: string, misread = 0): MeterSet => new MeterSet(createRandom(seed), misread)

function valueOf(meters: MeterSet, probe: Probe, value: number): number {
  const shown = meters.show(probe, () => value)
  return shown.over ? Number.POSITIVE_INFINITY : shown.value
}

const many = Array.from({ length: 200 }, (_, n) => n)

describe('meters of one workshop', () => {
  test('two readings of one value share gain and zero: they differ by no more than a step and a still hand', () => {
    for (const n of many) {
      const meters = metersOf(`same ${n}`)
      const shown = [1, 2, 3].map(() => valueOf(meters, VOLTS, 12.345))
      expect(Math.max(...shown) - Math.min(...shown)).toBeLessThanOrEqual(0.02 + 1e-9)
    }
  })

  test('those of many workshops spread as a maker that allows 0.5 % and two counts, rectangular', () => {
    const shown = many.map((n) => valueOf(metersOf(`each ${n}`), VOLTS, 24))
    const mean = shown.reduce((sum, one) => sum + one, 0) / shown.length
    const sd = Math.sqrt(shown.reduce((sum, one) => sum + (one - mean) ** 2, 0) / shown.length)
    const rectangular = Math.hypot(0.005 * 24, 2 * 0.01) / Math.sqrt(3)
    expect(Math.abs(mean - 24)).toBeLessThan((4 * rectangular) / Math.sqrt(shown.length))
    expect(Math.abs(sd / rectangular - 1)).toBeLessThan(0.2)
    expect(Math.max(...shown.map((one) => Math.abs(one - 24)))).toBeLessThanOrEqual(0.005 * 24 + 2 * 0.01 + 0.02)
  })

  test('the lowest range that holds the value is read, and what none holds is over-range', () => {
    const meters = metersOf('ranges')
    expect(meters.show(VOLTS, () => 3.5)).toMatchObject({ over: false, range: { resolution: 0.001 } })
    expect(meters.show(VOLTS, () => 13.5)).toMatchObject({ over: false, range: { resolution: 0.01 } })
    expect(meters.show(VOLTS, () => 500)).toEqual({ over: true, text: 'OL' })
    expect(meters.show(OHMS, () => Number.POSITIVE_INFINITY)).toEqual({ over: true, text: 'OL' })
  })

  test('an ohmmeter never shows less than nought', () => {
    for (const n of many) expect(valueOf(metersOf(`short ${n}`), OHMS, 0)).toBeGreaterThanOrEqual(0)
  })

  test('a misread shows anything the usual range can', () => {
    const shown = many.map((n) => valueOf(metersOf(`misread ${n}`, 1), VOLTS, 12)).filter(Number.isFinite)
    expect(Math.min(...shown)).toBeLessThan(-20)
    expect(Math.max(...shown)).toBeGreaterThan(20)
    expect(Math.max(...shown.map(Math.abs))).toBeLessThanOrEqual(39.99)
  })
})
