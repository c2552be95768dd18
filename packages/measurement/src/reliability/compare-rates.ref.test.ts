import { expect, test } from 'vitest'
import { chanceFirstHigher } from './compare-rates.js'

const sample = (failures: number, number: number) => ({ failures, number })

/** Quadrature with 30 digits (mpmath), the inner integral by the incomplete beta function. */
test('probability that the first proportion is the higher one', () => {
  const known = [
    [3, 8, 0, 6, 0.9628702308887817],
    [0, 5, 0, 9, 0.588828702813631],
    [30, 60, 20, 55, 0.929927431873572],
    [2, 400, 9, 500, 0.0342170695488485],
    [0, 20, 20, 20, 1.113372666430748e-13],
  ]
  for (const [x, n, y, m, value] of known)
    expect(Math.abs(chanceFirstHigher(sample(x, n), sample(y, m)) / value - 1)).toBeLessThan(1e-11)
})

test('equal samples decide nothing, nor do empty ones, and the two ways round make one', () => {
  expect(chanceFirstHigher(sample(4, 9), sample(4, 9))).toBeCloseTo(0.5, 12)
  expect(chanceFirstHigher(sample(0, 0), sample(0, 0))).toBeCloseTo(0.5, 12)
  const [one, other] = [sample(3, 50), sample(700, 9000)]
  expect(chanceFirstHigher(one, other) + chanceFirstHigher(other, one)).toBeCloseTo(1, 11)
})
