import { expect, test } from 'vitest'
import { meanInterval, studentQuantile } from './student-law.js'

/** Closed forms: with one degree of freedom t = tan(pi (p - 1/2)), with two t = (2p - 1)/sqrt(2p(1 - p)). */
test('one and two degrees of freedom have closed forms', () => {
  for (const p of [0.001, 0.1, 0.4, 0.5, 0.75, 0.975, 0.9999]) {
    const [one, two] = [Math.tan(Math.PI * (p - 0.5)), (2 * p - 1) / Math.sqrt(2 * p * (1 - p))]
    expect(Math.abs(studentQuantile(p, 1) - one)).toBeLessThanOrEqual(1e-11 * Math.abs(one) + 1e-15)
    expect(Math.abs(studentQuantile(p, 2) - two)).toBeLessThanOrEqual(1e-11 * Math.abs(two) + 1e-15)
  }
})

/** Printed tables of Student's t, from memory. */
test('ten degrees of freedom at 97.5 % give 2.228', () => {
  expect(studentQuantile(0.975, 10)).toBeCloseTo(2.228, 3)
  expect(meanInterval(5, 2, 11, 0.95).high).toBeCloseTo(5 + (2.228 * 2) / Math.sqrt(11), 3)
})
