import fc from 'fast-check'
import { expect, test } from 'vitest'
import {
  chanceOfCount,
  chanceOfFailure,
  garwoodInterval,
  JEFFREYS_RATE,
  rateFromQuantiles,
  rateMoments,
  rateQuantile,
  updateRate,
} from './failure-rate.js'

test('three failures in 1000 hours on half a failure in none: mean 3.5 per 1000 hours', () => {
  const known = updateRate(JEFFREYS_RATE, 3, 1000)
  expect(known).toEqual({ shape: 3.5, exposure: 1000 })
  expect(rateMoments(known)).toEqual({ mean: 0.0035, sd: Math.sqrt(3.5) / 1000 })
})

test('with a shape of one the rate is exponential, and the next count geometric', () => {
  const known = { shape: 1, exposure: 10 }
  expect(rateQuantile(known, 0.5)).toBeCloseTo(Math.LN2 / 10, 14)
  for (const count of [0, 1, 2]) expect(chanceOfCount(known, 30, count)).toBeCloseTo(0.25 * 0.75 ** count, 14)
  expect(chanceOfFailure(known, 30)).toBeCloseTo(0.75, 14)
})

test('chances of all counts sum to one, and those above none to the chance of a failure', () => {
  const positive = fc.double({ min: 0.1, max: 20, noNaN: true })
  fc.assert(
    fc.property(positive, positive, fc.double({ min: 0, max: 5, noNaN: true }), (shape, exposure, next) => {
      const known = { shape, exposure: exposure + next }
      const chances = Array.from({ length: 400 }, (_, count) => chanceOfCount(known, next, count))
      expect(chances.reduce((sum, one) => sum + one, 0)).toBeCloseTo(1, 9)
      expect(1 - chances[0]).toBeCloseTo(chanceOfFailure(known, next), 9)
    }),
  )
})

test('no failure leaves an upper limit of 3.69 over the exposure at 95 % two-sided, and no lower one', () => {
  expect(garwoodInterval(0, 100, 0.95)).toEqual({ low: 0, high: expect.closeTo(-Math.log(0.025) / 100, 12) })
})

test('a rate of which nothing is known is refused', () => {
  expect(() => updateRate(JEFFREYS_RATE, 0, 0)).toThrow('no rate from 0 failures in 0')
  expect(() => updateRate(JEFFREYS_RATE, -1, 10)).toThrow('no rate from -1 failures')
})

test('two judgements come out again as quantiles', () => {
  fc.assert(
    fc.property(fc.double({ min: 1.05, max: 30, noNaN: true }), (ratio) => {
      const known = rateFromQuantiles(2e-5, 2e-5 * ratio, 0.95)
      expect(rateQuantile(known, 0.5) / 2e-5).toBeCloseTo(1, 9)
      expect(rateQuantile(known, 0.95) / 2e-5 / ratio).toBeCloseTo(1, 9)
    }),
  )
  expect(() => rateFromQuantiles(2, 1, 0.95)).toThrow('no rate has the median 2')
})
