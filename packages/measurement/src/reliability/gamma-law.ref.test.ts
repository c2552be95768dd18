import fc from 'fast-check'
import { expect, test } from 'vitest'
import { gammaQuantile, gammaTails, logGamma } from './gamma-law.js'

/** scipy 1.17.1, scipy.special.gammaln and scipy.stats.gamma.ppf, agreed within 5e-14 relative but where said. */
test('logarithm of the gamma function', () => {
  const known = [
    [0.1, 2.252712651734206],
    [0.5, 0.5723649429247],
    [1.5, -0.12078223763524526],
    [10, 12.801827480081469],
    [100.5, 361.43554046777757],
    [1e5, 1051287.7089736569],
  ]
  for (const [x, value] of known) expect(Math.abs(logGamma(x) / value - 1)).toBeLessThan(1e-13)
})

test('quantiles of the gamma law, shapes from a hundredth to twenty thousand', () => {
  const known = [
    [0.5, 0.01, 4.465535018910562e-31],
    [0.025, 0.01, 3.5226859973137185e-161],
    [0.025, 0.5, 0.0004910345585876278],
    [0.975, 0.5, 2.511943093657444],
    [0.5, 1.5, 1.1829869421876689],
    [1e-10, 3, 0.0008436105624847267],
    [1 - 1e-10, 3, 29.145901390216682],
    [0.025, 200, 173.24088268145732],
    [0.975, 20000.5, 20278.630163216523],
  ]
  // A shape of 0.01 multiplies every rounding of the logarithm by 100.
  for (const [p, shape, value] of known) expect(Math.abs(gammaQuantile(p, shape) / value - 1)).toBeLessThan(1e-12)
})

test('the quantile is the inverse of the distribution, in either tail', () => {
  fc.assert(
    fc.property(
      fc.double({ min: 1e-6, max: 1 - 1e-6, noNaN: true }),
      fc.double({ min: 0.05, max: 500, noNaN: true }),
      (p, shape) => {
        const { below, above } = gammaTails(shape, gammaQuantile(p, shape))
        expect(below / p).toBeCloseTo(1, 9)
        expect(above / (1 - p)).toBeCloseTo(1, 9)
      },
    ),
  )
})

test('ends of the range, and what lies outside it', () => {
  expect([gammaQuantile(0, 2), gammaQuantile(1, 2)]).toEqual([0, Number.POSITIVE_INFINITY])
  expect(() => gammaQuantile(1.5, 2)).toThrow('no quantile 1.5')
  expect(() => gammaQuantile(0.5, 0)).toThrow('shape 0')
})
