import { normalCdf, normalPdf } from '@halfsplit/core'
import { expect, test } from 'vitest'
import { bothAbove } from './bivariate.js'

/** P(X > h, Y > k) by summation over X. */
function bySummation(h: number, k: number, rho: number): number {
  const steps = 400_000
  const step = (9 - h) / steps
  let sum = 0
  for (let i = 0; i < steps; i++) {
    const x = h + (i + 0.5) * step
    sum += normalPdf(x) * normalCdf((rho * x - k) / Math.sqrt(1 - rho * rho)) * step
  }
  return sum
}

test.each([
  [0, 0, 0.5],
  [1, -0.5, 0.8],
  [-1.5, 0.7, -0.6],
  [0.3, 0.32, 0.99],
  [-2, -1.9, 0.999],
  [0.5, -0.4, -0.98],
  [2, 1, 0.2],
])('both above %s and %s with correlation %s is as summed', (h, k, rho) => {
  expect(bothAbove(h, k, rho)).toBeCloseTo(bySummation(h, k, rho), 6)
})

test('a condition and itself are the condition; a condition and its opposite are impossible', () => {
  expect(bothAbove(-0.7, -0.7, 1)).toBeCloseTo(normalCdf(0.7), 8)
  expect(bothAbove(-0.7, 0.7, -1)).toBeLessThan(1e-8)
})
