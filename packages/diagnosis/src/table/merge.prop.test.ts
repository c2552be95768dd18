import fc from 'fast-check'
import { expect, test } from 'vitest'
import { sharesBetween } from './bins.js'
import { mergeOutcomes } from './merge.js'

const joint = fc
  .tuple(fc.integer({ min: 1, max: 8 }), fc.integer({ min: 1, max: 4 }))
  .chain(([outcomes, classes]) =>
    fc.array(fc.array(fc.integer({ min: 0, max: 20 }), { minLength: classes, maxLength: classes }), {
      minLength: outcomes,
      maxLength: outcomes,
    }),
  )
  .filter((rows) => rows.flat().some((one) => one > 0))
  .map((rows) => {
    const total = rows.flat().reduce((sum, one) => sum + one, 0)
    return rows.map((row) => Float64Array.from(row, (one) => one / total))
  })

/** Mutual information [bit], summed directly. */
function bits(rows: readonly Float64Array[]): number {
  const classes = Float64Array.from(rows[0], (_, c) => rows.reduce((sum, row) => sum + row[c], 0))
  let sum = 0
  for (const row of rows) {
    const whole = row.reduce((total, one) => total + one, 0)
    for (const [c, one] of row.entries()) if (one > 0) sum += one * Math.log2(one / whole / classes[c])
  }
  return sum
}

test('merged outcomes tell no more than the fine ones, and nearly as much where many may be kept', () => {
  fc.assert(
    fc.property(joint, fc.integer({ min: 1, max: 8 }), (rows, most) => {
      const { first, information } = mergeOutcomes(rows, most)
      expect(first.length).toBeLessThanOrEqual(most)
      expect(first[0]).toBe(0)
      expect(information).toBeLessThanOrEqual(bits(rows) + 1e-9)
      const merged = first.map((from, k) =>
        rows
          .slice(from, first[k + 1] ?? rows.length)
          .reduce((sum, row) => sum.map((one, c) => one + row[c]), new Float64Array(rows[0].length)),
      )
      expect(information).toBeCloseTo(bits(merged), 9)
      const lost = most >= rows.length ? bits(rows) - information : 0
      expect(lost).toBeLessThanOrEqual(Math.max(0.04 * bits(rows), 1e-3) + 1e-9)
    }),
  )
})

test('shares between cuts hold the whole distribution, however the cuts lie', () => {
  const value = fc.double({ min: -20, max: 20, noNaN: true })
  const parts = fc.record({
    normals: fc.array(fc.record({ weight: fc.constant(0.3), mean: value, sd: fc.double({ min: 0, max: 5, noNaN: true }) }), {
      minLength: 1,
      maxLength: 3,
    }),
    uniforms: fc.array(
      value.map((low) => ({ weight: 0.1, low, high: low + 2 })),
      { maxLength: 2 },
    ),
    words: fc.constant<number[]>([]),
  })
  const cuts = fc.uniqueArray(value, { minLength: 1, maxLength: 6 }).map((list) => list.sort((a, b) => a - b))
  fc.assert(
    fc.property(parts, cuts, (predictive, at) => {
      const shares = sharesBetween(predictive, at)
      const whole = [...predictive.normals, ...predictive.uniforms].reduce((sum, { weight }) => sum + weight, 0)
      expect(shares.reduce((sum, one) => sum + one, 0)).toBeCloseTo(whole, 9)
      expect(shares.every((one) => one >= -1e-12)).toBe(true)
    }),
  )
})
