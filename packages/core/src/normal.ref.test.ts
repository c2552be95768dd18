import { describe, expect, it } from 'vitest'
import { logNormalCdf, normalCdf, normalInterval, normalPdf, normalQuantile } from './normal.js'

// Computed with 50 digits by an independent arbitrary-precision library (mpmath), rounded to double.
const CDF: [number, number][] = [
  [-37, 5.725571222524577e-300],
  [-30, 4.906713927148187e-198],
  [-20.5, 1.0764673258790961e-93],
  [-12, 1.776482112077679e-33],
  [-8, 6.220960574271784e-16],
  [-5.9, 1.8175078630994284e-9],
  [-5.6, 1.071759025831093e-8],
  [-3, 0.0013498980316300946],
  [-1, 0.15865525393145705],
  [-0.7, 0.24196365222307303],
  [-0.6, 0.2742531177500736],
  [-0.25, 0.4012936743170763],
  [0, 0.5],
  [0.25, 0.5987063256829237],
  [1, 0.8413447460685429],
  [2.5, 0.9937903346742238],
  [5, 0.9999997133484281],
  [8, 0.9999999999999993],
]

describe('the normal law', () => {
  it.each(CDF)('has its distribution at %f within 1e-15 relative, far tails included', (x, p) => {
    expect(Math.abs(normalCdf(x) / p - 1)).toBeLessThan(1e-15)
  })

  it.each(CDF.filter(([x]) => x < 6))('has the quantile %f back from its probability', (x, p) => {
    // Above the middle a probability near 1 is known to half an ulp only, which limits the way back.
    const limit = 1e-14 * Math.max(1, Math.abs(x)) + (x > 0 ? 2e-16 / normalPdf(x) : 0)
    expect(Math.abs(normalQuantile(p) - x)).toBeLessThan(limit)
  })

  it('has the familiar 97.5 % quantile', () => {
    // 1.959963984540054: any table of the normal law.
    expect(normalQuantile(0.975)).toBeCloseTo(1.959963984540054, 14)
  })

  it('keeps the logarithm where the probability underflows', () => {
    // mpmath, 50 digits.
    expect(logNormalCdf(-100) / -5005.524208694205 - 1).toBeCloseTo(0, 14)
    expect(logNormalCdf(2) / -0.02301290932896349 - 1).toBeCloseTo(0, 14)
  })

  it('gives narrow intervals in a tail without cancellation', () => {
    // mpmath, 50 digits: the interval from 6 to 6 + 2^-20.
    expect(normalInterval(6, 6 + 2 ** -20) / 5.79439684545064e-15 - 1).toBeCloseTo(0, 13)
    expect(normalInterval(-(2 ** -30), 2 ** -30) / 7.430879034128649e-10 - 1).toBeCloseTo(0, 13)
    expect(normalInterval(-1, 2) / 0.8185946141203637 - 1).toBeCloseTo(0, 14)
  })

  it('answers at the ends and outside', () => {
    expect([normalCdf(-Infinity), normalCdf(Infinity), normalInterval(-Infinity, Infinity)]).toEqual([0, 1, 1])
    expect([normalQuantile(0), normalQuantile(1), normalQuantile(0.5), normalPdf(Infinity)]).toEqual([-Infinity, Infinity, 0, 0])
    expect([normalQuantile(-0.1), normalQuantile(1.1), normalCdf(NaN)]).toEqual([NaN, NaN, NaN])
    expect(normalInterval(2, 1)).toBe(0)
  })
})
