import fc from 'fast-check'
import { normalInterval } from '@halfsplit/core'
import { expect, test } from 'vitest'
import { fitCensoredNormal } from './censored-normal.js'

const around = (middles: number[], half: number) => middles.map((one) => ({ low: one - half, high: one + half }))

test('narrow intervals give the mean and the sd with divisor n, and their textbook errors', () => {
  const fit = fitCensoredNormal(around([1, 2, 4, 5], 1e-5))
  const sd = Math.sqrt(10 / 4)
  expect(fit?.mean).toBeCloseTo(3, 9)
  expect(fit?.sd).toBeCloseTo(sd, 8)
  expect(fit?.meanError).toBeCloseTo(sd / 2, 6)
  expect(fit?.sdError).toBeCloseTo(sd / Math.sqrt(8), 6)
})

test('wide intervals: no other mean and sd nearby are likelier', () => {
  const intervals = fc
    .array(fc.record({ low: fc.double({ min: 0, max: 10, noNaN: true }), width: fc.double({ min: 0.1, max: 3, noNaN: true }) }), {
      minLength: 3,
      maxLength: 8,
    })
    .map((list) => list.map(({ low, width }) => ({ low, high: low + width })))
  fc.assert(
    fc.property(intervals, (list) => {
      const fit = fitCensoredNormal(list)
      fc.pre(fit !== undefined)
      const { mean, sd, meanError, sdError } = fit as NonNullable<typeof fit>
      const logLikelihood = (m: number, s: number) =>
        list.reduce((sum, { low, high }) => sum + Math.log(normalInterval((low - m) / s, (high - m) / s)), 0)
      const best = logLikelihood(mean, sd)
      for (const [dm, ds] of [
        [0.1, 0],
        [-0.1, 0],
        [0, 0.1],
        [0, -0.1],
      ])
        expect(logLikelihood(mean + dm * meanError, Math.max(sd + ds * sdError, sd / 10))).toBeLessThan(best + 1e-9)
    }),
  )
})

test('intervals with a point in common say nothing of the spread', () => {
  expect(
    fitCensoredNormal([
      { low: 0, high: 2 },
      { low: 1, high: 3 },
      { low: 1.5, high: 4 },
    ]),
  ).toBeUndefined()
})
