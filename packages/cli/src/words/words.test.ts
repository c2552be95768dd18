import type { Meter } from '@halfsplit/core'
import { describe, expect, test } from 'vitest'
import { labelled, listed, wrap } from './layout.js'
import { oddsWords, shareWords } from './odds.js'
import { sizeWords } from './size.js'
import { strengthWords } from './strength.js'
import { bandWords, span } from './values.js'

describe('odds', () => {
  test.each([
    [0.9999, 'over 19 in 20'],
    [0.95, '19 in 20'],
    [0.89, '9 in 10'],
    [0.5, 'even'],
    [0.34, '1 in 3'],
    [0.011, '1 in 100'],
    [0.001, 'under 1 in 100'],
    [0, 'under 1 in 100'],
    [Number.NaN, 'under 1 in 100'],
  ])('%d is said "%s"', (probability, words) => {
    expect(oddsWords(probability)).toBe(words)
  })

  test('a share of what is open', () => {
    expect([0.01, 0.3, 0.5, 0.99].map(shareWords)).toEqual(['next to nothing', 'about a third', 'about half', 'nearly all'])
  })

  test('how strongly a reading speaks', () => {
    expect([0.5, 10, -10, 3, 40].map(strengthWords)).toEqual([
      'no change',
      '10 times likelier',
      '10 times less likely',
      '2 times likelier',
      'over 1000 times likelier',
    ])
  })
})

describe('sizes', () => {
  const size = { low: 3e4, high: 4e5, openBelow: false, openAbove: false }
  test('have an end only where the readings give one', () => {
    expect(sizeWords(size, 'resistance')).toBe('30 to 400 kOhm')
    expect(sizeWords({ ...size, openAbove: true }, 'resistance')).toBe('tens of kOhm or more')
    expect(sizeWords({ ...size, openBelow: true }, 'resistance')).toBe('400 kOhm or less')
    expect(sizeWords({ ...size, openBelow: true, openAbove: true }, 'resistance')).toBe('any size: these readings cannot tell')
  })
})

describe('bands', () => {
  const meter: Meter = { name: 'meter', quantity: 'voltage', ranges: [{ top: 20, percent: 0.5, counts: 2, resolution: 0.001 }] }
  const band = (low: number, high: number) => bandWords(meter, { low, high, middle: (low + high) / 2 })
  test('have one unit at both ends, and digits that follow their width', () => {
    expect(band(0.062, 0.152)).toBe('62 to 152 mV')
    expect(band(0, 12.6)).toBe('0.0 to 12.6 V')
    expect(band(12.34, 12.86)).toBe('12.34 to 12.86 V')
    expect(band(-0.002, 0.002)).toBe('-2 to 2 mV')
    expect(band(12, 25)).toBe('12.0 V or more')
  })
})

describe('layout', () => {
  test('a unit never parts from its number', () => {
    expect(wrap('from 12 V to 14 V', 9)).toEqual(['from 12 V', 'to 14 V'])
    expect(span('8.3 V', '12.4 V')).toBe('8.3 to 12.4 V')
    expect(span('990 mV', '1.2 V')).toBe('990 mV to 1.2 V')
    expect(span('5 kOhm', 'OL')).toBe('5 kOhm or more')
  })

  test('long texts go on below their beginning', () => {
    expect(
      labelled(
        [
          ['Why', 'one two three'],
          ['First', 'four'],
        ],
        16,
      ),
    ).toEqual(['  Why    one two', '         three', '  First  four'])
    expect(listed(['a', 'b', 'c'])).toBe('a, b and c')
  })
})
