import { expect, test } from 'vitest'
import { clopperPearson, dirichletShares, jeffreysCentral, jeffreysInterval } from './proportion.js'

test('none of ten failed: both intervals begin at 0, and the exact one ends where 0.975 of tests would have shown one', () => {
  expect(clopperPearson(0, 10, 0.95)).toEqual({ low: 0, high: expect.closeTo(1 - 0.025 ** 0.1, 12) })
  expect(jeffreysInterval(0, 10, 0.95).low).toBe(0)
  expect(jeffreysCentral(0, 10, 0.95).low).toBeGreaterThan(0)
  expect(jeffreysInterval(0, 10, 0.95).high).toBe(jeffreysCentral(0, 10, 0.95).high)
})

test('failed and good changed over turn the interval about a half', () => {
  for (const interval of [clopperPearson, jeffreysInterval]) {
    const [one, other] = [interval(3, 12, 0.9), interval(9, 12, 0.9)]
    expect(one.low).toBeCloseTo(1 - other.high, 12)
    expect(one.high).toBeCloseTo(1 - other.low, 12)
  }
})

test('the exact interval holds the one of Jeffreys', () => {
  for (let failures = 0; failures <= 15; failures++) {
    const [outer, inner] = [clopperPearson(failures, 15, 0.95), jeffreysInterval(failures, 15, 0.95)]
    expect(outer.low).toBeLessThanOrEqual(inner.low)
    expect(outer.high).toBeGreaterThanOrEqual(inner.high)
  }
})

test('shares of kinds: two alike are uniform, and means sum to one', () => {
  const [first] = dirichletShares([1, 1], 0.9)
  expect(first.mean).toBe(0.5)
  expect(first.sd).toBeCloseTo(Math.sqrt(1 / 12), 14)
  expect(first.interval).toEqual({ low: expect.closeTo(0.05, 12), high: expect.closeTo(0.95, 12) })
  expect(dirichletShares([0.5, 3, 8], 0.95).reduce((sum, { mean }) => sum + mean, 0)).toBeCloseTo(1, 14)
  expect(dirichletShares([4], 0.95)[0].interval).toEqual({ low: 1, high: 1 })
})

test('more failures than tests are refused', () => {
  expect(() => clopperPearson(11, 10, 0.95)).toThrow('11 failed of 10')
})
