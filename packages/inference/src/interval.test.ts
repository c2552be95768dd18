import { describe, expect, test } from 'vitest'
import { truncatedNormal } from './interval.js'

/** Log mass, mean and variance by plain summation over the interval, relative to its likeliest point. */
function bySummation(low: number, high: number) {
  const peak = Math.min(Math.max(0, low), high)
  const from = Math.max(low, peak - 40 / Math.max(1, Math.abs(peak)) - (peak === 0 ? 10 : 0))
  const to = Math.min(high, peak + 40 / Math.max(1, Math.abs(peak)) + (peak === 0 ? 10 : 0))
  const steps = 200_000
  let mass = 0
  let first = 0
  let second = 0
  for (let i = 0; i < steps; i++) {
    const t = from + ((i + 0.5) * (to - from)) / steps - peak
    const f = Math.exp(-t * (peak + t / 2))
    mass += f
    first += f * t
    second += f * t * t
  }
  const mean = first / mass
  const log = Math.log((mass * (to - from)) / steps) - (peak * peak) / 2 - 0.5 * Math.log(2 * Math.PI)
  return { log, mean: peak + mean, variance: second / mass - mean * mean }
}

describe('a standard normal quantity found in an interval', () => {
  test.each([
    [-0.01, 0.02],
    [1.2, 1.25],
    [7, 7.001],
    [-0.4, 0.9],
    [2, 3.5],
    [-3, 4],
    [0.5, Number.POSITIVE_INFINITY],
    [6, Number.POSITIVE_INFINITY],
    [30, 30.5],
    [30, Number.POSITIVE_INFINITY],
    [80, 80.05],
    [80, Number.POSITIVE_INFINITY],
    [Number.NEGATIVE_INFINITY, -5],
    [-9, -8.7],
  ])('%s to %s has mass, mean and variance as summed', (low, high) => {
    const ours = truncatedNormal(low, high)
    const sum = bySummation(low, high)
    expect(ours.log).toBeCloseTo(sum.log, 3)
    expect(Math.abs(ours.mean / sum.mean - 1)).toBeLessThan(1e-4)
    expect(Math.abs(ours.variance / sum.variance - 1)).toBeLessThan(3e-3)
  })

  test('the whole line says nothing', () => {
    const all = truncatedNormal(Number.NEGATIVE_INFINITY, Number.POSITIVE_INFINITY)
    expect(all.log).toBeCloseTo(0, 14)
    expect(all.mean).toBeCloseTo(0, 14)
    expect(all.variance).toBeCloseTo(1, 14)
  })

  test('an empty interval is impossible', () => {
    expect(truncatedNormal(1, 1).log).toBe(Number.NEGATIVE_INFINITY)
  })
})
