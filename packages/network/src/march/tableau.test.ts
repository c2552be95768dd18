import { describe, expect, test } from 'vitest'
import { A, B, C, EMBEDDED, GAMMA, STAGES } from './tableau.js'

const rows = A.map((row, i) => Array.from({ length: STAGES }, (_, j) => (j < i ? row[j] : j === i && i > 0 ? GAMMA : 0)))
const dot = (p: readonly number[], q: readonly number[]) => p.reduce((sum, value, i) => sum + value * q[i], 0)
const times = (matrix: readonly (readonly number[])[], v: readonly number[]) => matrix.map((row) => dot(row, v))
const power = (n: number) => C.map((c) => c ** n)

describe('tableau', () => {
  test('each stage stands where its row sums to, and the last is the result', () => {
    rows.forEach((row, i) => expect(dot(row, power(0))).toBeCloseTo(C[i], 14))
    rows[STAGES - 1].forEach((value, j) => expect(value).toBeCloseTo(B[j], 15))
  })

  // Conditions of order for Runge-Kutta methods: J. C. Butcher; Hairer, Norsett, Wanner, Solving ODE I, table II.2.1 (from memory).
  test.each([
    ['1', power(0), 1],
    ['c', C, 1 / 2],
    ['c2', power(2), 1 / 3],
    ['Ac', times(rows, C), 1 / 6],
    ['c3', power(3), 1 / 4],
    ['cAc', times(rows, C).map((value, i) => value * C[i]), 1 / 8],
    ['Ac2', times(rows, power(2)), 1 / 12],
    ['AAc', times(rows, times(rows, C)), 1 / 24],
  ] as const)('meets the condition of %s to fourth order', (_, v, value) => {
    expect(dot(B, v)).toBeCloseTo(value, 14)
  })

  test('the embedded result is of third order and not of fourth', () => {
    expect(dot(EMBEDDED, power(2))).toBeCloseTo(1 / 3, 14)
    expect(dot(EMBEDDED, times(rows, C))).toBeCloseTo(1 / 6, 14)
    expect(Math.abs(dot(EMBEDDED, power(3)) - 1 / 4)).toBeGreaterThan(1e-4)
  })

  test('what decays much faster than a step is gone after it', () => {
    for (const z of [-1e4, -1e8]) {
      const stages: number[] = []
      rows.forEach((row, i) =>
        stages.push((1 + z * row.slice(0, i).reduce((s, a, j) => s + a * stages[j], 0)) / (1 - z * row[i])),
      )
      expect(Math.abs(stages[STAGES - 1])).toBeLessThan(10 / -z)
    }
  })
})
