import { expect, it } from 'vitest'
import { coldResistance, hotResistance, inrushRatio, lampCurrent, linearResistance, ratingExponents } from './filament-lamp.js'
import { greatestWattage } from './lamp-category.js'

it('a lamp takes its power at its voltage, and relatively more current below', () => {
  expect(lampCurrent(21, 12, 12)).toBeCloseTo(1.75, 9)
  expect(lampCurrent(21, 12, 6)).toBeGreaterThan(1.75 / 2)
  expect(lampCurrent(21, 12, 0)).toBe(0)
})

it('cold it is almost a short, within what a good lamp may have', () => {
  const { least, most } = coldResistance(21, 12)
  const cold = hotResistance(21, 12) / inrushRatio()
  expect(cold).toBeGreaterThan(least)
  expect(cold).toBeLessThan(most)
})

it('the exponents fit together', () => {
  const { current, power, resistance } = ratingExponents()
  expect(power).toBeCloseTo(1 + current, 12)
  expect(resistance).toBeCloseTo(1 - current, 12)
})

// UN Regulation No. 37, category sheets (from memory): P21W 12 V at most 26.5 W at 13.5 V.
it('wattages of a category, its filaments apart', () => {
  expect(greatestWattage('P21W', 12)).toEqual([26.5])
  expect(greatestWattage('P21/5W', 12)).toHaveLength(2)
  expect(greatestWattage('none', 12)).toBeUndefined()
})

it('what cannot be is refused', () => {
  expect(() => lampCurrent(0, 12, 12)).toThrow(/power of the lamp/)
  expect(() => linearResistance(1, -0.01, 500)).toThrow(/ratio of resistances/)
})
