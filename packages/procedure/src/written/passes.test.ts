import { DEFAULT_METERS } from '@halfsplit/core'
import { describe, expect, it } from 'vitest'
import type { Expect } from './model.js'
import { displayedBy, passes } from './passes.js'

const range = (low?: number, high?: number): Expect => ({ kind: 'range', dimension: 'resistance', low, high })

describe('what a step expects', () => {
  it('is met within its limits, both included', () => {
    expect([9.9, 10, 20, 20.1].map((value) => passes({ expect: range(10, 20) }, { value }))).toEqual([false, true, true, false])
  })

  it('is met by a display over its range where no upper limit stands', () => {
    expect(passes({ expect: range(10) }, 'over range')).toBe(true)
    expect(passes({ expect: range(10, 20) }, 'over range')).toBe(false)
    expect(passes({ expect: { kind: 'over-range' } }, 'over range')).toBe(true)
    expect(passes({ expect: { kind: 'over-range' } }, { value: 5 })).toBe(false)
  })

  it('is never met by digits that do not come to rest, nor by a word where a number was asked for', () => {
    expect(passes({ expect: range(10) }, 'unsteady')).toBe(false)
    expect(passes({ expect: range(10) }, { word: 'bright' })).toBe(false)
    expect(passes({ expect: { kind: 'words', words: ['bright', 'dim'] } }, { word: 'dim' })).toBe(true)
  })

  // IEC 60028: copper gains 0.393 % of its resistance at 20 degC a kelvin, so 100 Ohm at 20 degC are 125.5 Ohm at 85 degC.
  it('of a coil moves with the temperature of the coil where the sheet names one', () => {
    const at20 = { expect: range(90, 110), temperature: 293.15 }
    expect(passes(at20, { value: 125.5 }, 358.15)).toBe(true)
    expect(passes(at20, { value: 100 }, 358.15)).toBe(false)
    expect(passes({ expect: range(90, 110) }, { value: 125.5 }, 358.15)).toBe(false)
  })
})

it('a display is rounded to its step, and over range where no range holds the value', () => {
  expect(displayedBy(DEFAULT_METERS.volts, 12.3456)).toEqual({ value: expect.closeTo(12.35, 9) })
  expect(displayedBy(DEFAULT_METERS.ohms, Number.POSITIVE_INFINITY)).toBe('over range')
})
