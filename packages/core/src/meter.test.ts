import { describe, expect, it } from 'vitest'
import { accuracyLimit, DEFAULT_METERS, display, rangeFor } from './index.js'

const { volts, ohms, pressure, thermometer } = DEFAULT_METERS

describe('a meter', () => {
  it('takes the lowest range that shows the value, judged after rounding', () => {
    expect(rangeFor(volts, 3.9994)?.resolution).toBe(0.001)
    expect(rangeFor(volts, 3.9996)?.resolution).toBe(0.01)
    expect(rangeFor(volts, -24)?.resolution).toBe(0.01)
    expect(rangeFor(volts, 1000)).toBeUndefined()
  })

  it('shows counts of its step', () => {
    expect(display(volts, 11.876)).toMatchObject({ over: false, counts: 1188, text: '11.88 V' })
    expect(display(ohms, 57.64)).toMatchObject({ counts: 576, text: '57.6 Ohm' })
    expect(display(volts, -0.0004)).toMatchObject({ text: '0.000 V' })
  })

  it('counts from its own zero', () => {
    expect(display(pressure, 751325)).toMatchObject({ value: 751325, text: '6.5 bar' })
    expect(display(thermometer, 368.17)).toMatchObject({ text: '95.0 degC' })
    expect(display(thermometer, 249.97)).toMatchObject({ text: '-23.2 degC' })
  })

  it('is over-range above its top range, at an open circuit and without a number', () => {
    for (const value of [50e6, Infinity, Number.NaN]) expect(display(ohms, value)).toEqual({ over: true, text: 'OL' })
  })

  it('errs by no more than percent of reading plus counts', () => {
    // 0.5 % of 12 V and 2 counts of 0.01 V.
    expect(accuracyLimit({ top: 39.99, resolution: 0.01, percent: 0.5, counts: 2 }, -12)).toBeCloseTo(0.08, 12)
  })

  it('has its ranges in rising order, and a test current for every range of ohms', () => {
    for (const meter of Object.values(DEFAULT_METERS)) {
      const tops = meter.ranges.map((range) => range.top)
      expect(tops).toEqual(tops.toSorted((a, b) => a - b))
    }
    expect(ohms.testCurrents).toHaveLength(ohms.ranges.length)
  })
})
