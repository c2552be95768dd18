import fc from 'fast-check'
import { expect, it } from 'vitest'
import { scaleOf, timeScale } from './scale.js'

it('ticks hold the range, in steps of 1, 2 or 5, and not more than asked for', () => {
  fc.assert(
    fc.property(fc.double({ min: -1e6, max: 1e6, noNaN: true }), fc.double({ min: 1e-3, max: 1e6, noNaN: true }), (low, span) => {
      const { ticks, at } = scaleOf(low, low + span, 0, 100, 5)
      const step = ticks[1] - ticks[0]
      const mantissa = step / 10 ** Math.floor(Math.log10(step) + 1e-6)
      expect([1, 2, 5, 10].some((one) => Math.abs(mantissa - one) < 1e-3)).toBe(true)
      expect(ticks[0]).toBeLessThanOrEqual(low + 0.021 * step)
      expect(ticks[ticks.length - 1]).toBeGreaterThanOrEqual(low + span - 0.021 * step)
      expect(ticks.length).toBeLessThanOrEqual(8)
      expect(at(ticks[0])).toBeCloseTo(0, 6)
      expect(at(ticks[ticks.length - 1])).toBeCloseTo(100, 6)
    }),
  )
})

it.each([
  [30, 's', [0, 5, 10, 15, 20, 25, 30]],
  [600, 'min', [0, 1, 2, 3, 4, 5, 6, 7, 8, 9, 10]],
  [3600, 'min', [0, 10, 20, 30, 40, 50, 60]],
  [4 * 3600, 'h', [0, 0.5, 1, 1.5, 2, 2.5, 3, 3.5, 4]],
])('%d s are counted in %s', (until, unit, ticks) => {
  const scale = timeScale(0, until, 0, 1, 10)
  expect(scale.unit).toBe(unit)
  expect(scale.ticks.map((tick) => tick / scale.length)).toEqual(ticks)
})
