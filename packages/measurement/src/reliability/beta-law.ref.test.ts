import fc from 'fast-check'
import { expect, test } from 'vitest'
import { betaQuantile, betaTails } from './beta-law.js'

/** scipy 1.17.1, scipy.stats.beta.ppf. */
test('quantiles of the beta law', () => {
  const known = [
    [0.025, 0.5, 12.5, 4.0075310076598856e-5],
    [0.975, 0.5, 12.5, 0.18530593831248504],
    [0.5, 0.01, 0.02, 3.105592827577112e-13],
    [0.025, 5.5, 20.5, 0.08067868746381908],
    [1e-8, 2, 3, 4.082594021609242e-5],
    [0.975, 1000.5, 9.5, 0.9955775793117609],
    [0.025, 3000.5, 3000.5, 0.48735103853266326],
  ]
  for (const [p, a, b, value] of known) expect(Math.abs(betaQuantile(p, a, b) / value - 1)).toBeLessThan(1e-12)
})

test('the quantile is the inverse of the distribution, and the law of 1 - x is the law with a and b changed over', () => {
  const shapes = fc.double({ min: 0.05, max: 300, noNaN: true })
  fc.assert(
    fc.property(fc.double({ min: 1e-4, max: 1 - 1e-4, noNaN: true }), shapes, shapes, (p, a, b) => {
      const x = betaQuantile(p, a, b)
      // Where x rounds to 1 the upper tail cannot be told from x alone.
      fc.pre(x < 1 - 1e-6)
      expect(betaTails(a, b, x).below / p).toBeCloseTo(1, 8)
      expect(betaTails(b, a, 1 - x, x).above / p).toBeCloseTo(1, 8)
    }),
  )
})

test('ends of the range, and what lies outside it', () => {
  expect([betaQuantile(0, 2, 2), betaQuantile(1, 2, 2)]).toEqual([0, 1])
  expect(betaTails(2, 3, 0)).toEqual({ below: 0, above: 1 })
  expect(betaTails(2, 3, 1)).toEqual({ below: 1, above: 0 })
  expect(() => betaQuantile(0.5, 0, 1)).toThrow('no quantile 0.5 of a beta law (0, 1)')
})
