import { normalCdf, normalInterval, normalPdf } from '@halfsplit/core'
import { describe, expect, test } from 'vitest'
import {
  type Branch,
  belief,
  type EvidenceRecord,
  type GroupEvidence,
  type NumberPrediction,
  predictive,
  type Sensitivities,
} from './index.js'

const row = (...value: number[]): Sensitivities => ({ index: value.map((_, i) => i), value })
const predicted = (mean: number, sensitivities: Sensitivities, freshSd = 0): NumberPrediction => ({
  kind: 'number',
  mean,
  sensitivities,
  freshSd,
})
const shown = (id: string, value: number, halfWidth = 0.005, error = 0): EvidenceRecord => ({
  id,
  outcome: { kind: 'number', value, halfWidth },
  error,
  range: { low: 0, high: 40 },
})
const one = (...predictions: NumberPrediction[]): Branch[] => [{ conditions: [], predictions }]
const single = [{ hypothesis: 0, weight: 1 }]

/** log P of a list of densities by the covariance matrix of three readings, written out. */
function logNormal3(x: number[], mean: number[], rows: number[][], fresh: number): number {
  const c = rows.map((a, i) => rows.map((b, j) => a.reduce((s, v, k) => s + v * b[k], 0) + (i === j ? fresh * fresh : 0)))
  const [[a, b, d], [, e, f], [, , g]] = c
  const det = a * (e * g - f * f) - b * (b * g - f * d) + d * (b * f - e * d)
  const inverse = [
    [e * g - f * f, d * f - b * g, b * f - d * e],
    [d * f - b * g, a * g - d * d, b * d - a * f],
    [b * f - d * e, b * d - a * f, a * e - b * b],
  ].map((r) => r.map((v) => v / det))
  const off = x.map((v, i) => v - mean[i])
  const quadratic = off.reduce((s, v, i) => s + v * off.reduce((t, w, j) => t + inverse[i][j] * w, 0), 0)
  return -0.5 * (quadratic + Math.log(det) + 3 * Math.log(2 * Math.PI))
}

describe('the joint likelihood of a list', () => {
  test("is the normal density with covariance J J' + D", () => {
    const rows = [
      [0.3, 0.1, 0],
      [0.3, 0, 0.2],
      [0.1, 0.2, 0.05],
    ]
    const x = [12.1, 11.6, 3.2]
    const mean = [12, 12, 3]
    const evidence = [{ id: 'g', records: x.map((value, i) => shown(`r${i}`, value, 0)) }]
    const { logEvidence } = belief(single, [1], evidence, () => one(...mean.map((m, i) => predicted(m, row(...rows[i]), 0.02))))
    expect(logEvidence).toBeCloseTo(logNormal3(x, mean, rows, 0.02), 9)
  })

  test('a supply that is low, read first, makes no other part suspect', () => {
    const supply = row(0.7)
    const evidence = [{ id: 'g', records: [shown('supply', 10.9), shown('load', 10.85)] }]
    const cells = [0, 1].map((hypothesis) => ({ hypothesis, weight: 1 }))
    const loads = [predicted(12.3, row(0.7, 0.03), 0.002), predicted(11.3, row(0.65, 0.2), 0.002)]
    const { probability } = belief(cells, [0.9, 0.1], evidence, (cell) => one(predicted(12.4, supply, 0.002), loads[cell]))
    expect(probability[0]).toBeGreaterThan(0.9)
  })

  test('a second reading of one point moves the belief by no more than the rounding of the display', () => {
    const cells = [0, 1].map((hypothesis) => ({ hypothesis, weight: 1 }))
    const points = [predicted(12, row(0.3), 0.001), predicted(11.8, row(0.05), 0.001)]
    const after = (times: number) =>
      belief(cells, [0.5, 0.5], [{ id: 'g', records: Array.from({ length: times }, () => shown('p', 11.9)) }], (cell) =>
        one(...Array.from({ length: times }, () => points[cell])),
      ).probability[0]
    expect(after(2)).toBeCloseTo(after(1), 9)
    expect(after(5)).toBeCloseTo(after(1), 9)
  })

  test('readings that disagree with each other count as a misread of one of them', () => {
    const evidence = [{ id: 'g', records: [shown('p', 11.9, 0.005, 0.02), shown('p', 3, 0.005, 0.02)] }]
    const { states } = belief(single, [1], evidence, () => one(predicted(12, row(0.3), 0.002), predicted(12, row(0.3), 0.002)))
    const heaviest = [...states[0].paths].sort((a, b) => b.log - a.log)[0]
    expect(heaviest.misreads).toBe(1)
    const [next] = predictive(states[0], one(predicted(12, row(0.3), 0.002)))
    expect(next.normals.toSorted((a, b) => b.weight - a.weight)[0].mean).toBeCloseTo(11.9, 2)
  })
})

describe('near a threshold', () => {
  const closed = (side: 1 | -1) => ({ mean: 0.4, sensitivities: row(0.8, -0.5), side })
  const branches = (low: number): Branch[] => [
    { conditions: [closed(1)], predictions: [predicted(12, row(0.5), 0.05)] },
    { conditions: [closed(-1)], predictions: [predicted(low, row(0.5), 0.05)] },
  ]

  test('one reading weighs both branches as the integral over the latents does', () => {
    const evidence = [{ id: 'g', records: [shown('p', 11.8, 0)] }]
    const { logEvidence } = belief(single, [1], evidence, () => branches(11.5))
    let sum = 0
    const step = 0.002
    for (let z = -8; z <= 8; z += step) {
      const above = normalCdf((0.4 + 0.8 * z) / 0.5)
      const on = normalPdf((11.8 - 12 - 0.5 * z) / 0.05) / 0.05
      const off = normalPdf((11.8 - 11.5 - 0.5 * z) / 0.05) / 0.05
      sum += normalPdf(z) * step * (above * on + (1 - above) * off)
    }
    expect(logEvidence).toBeCloseTo(Math.log(sum), 6)
  })

  test('what a branch teaches of its threshold is kept for the next setup', () => {
    const evidence = [{ id: 'g', records: [shown('p', 12, 0.005)] }]
    const { states } = belief(single, [1], evidence, () => branches(0))
    const [again] = predictive(states[0], branches(0))
    expect(again.normals.filter(({ mean }) => mean < 1).reduce((s, { weight }) => s + weight, 0)).toBeLessThan(1e-6)
  })

  test('three setups with margins of one threshold come out as the integral over the latents does', () => {
    const margins = [0.4, 0.1, -0.3]
    const setups = margins.map((mean, i) => ({ mean, sensitivities: row(0.8, -0.5, i === 1 ? 0.2 : 0) }))
    const readings = [11.8, 11.6, 0.3]
    const evidence = readings.map((value, i) => ({ id: `g${i}`, records: [shown('p', value, 0)] }))
    const { logEvidence } = belief(single, [1], evidence, (_, group) =>
      ([1, -1] as const).map((side) => ({
        conditions: [{ ...setups[group], side }],
        predictions: [predicted(side > 0 ? 12 : 0.5, row(0.5), 0.3)],
      })),
    )
    let sum = 0
    const step = 0.05
    for (let x = -6; x <= 6; x += step) {
      for (let y = -6; y <= 6; y += step) {
        const fixed = 0.8 * x - 0.5 * y
        const density = (value: number, on: boolean) => normalPdf((value - (on ? 12 : 0.5) - 0.5 * x) / 0.3) / 0.3
        const middle = normalCdf((margins[1] + fixed) / 0.2)
        const p = density(readings[0], margins[0] + fixed >= 0) * density(readings[2], margins[2] + fixed >= 0)
        sum +=
          normalPdf(x) *
          normalPdf(y) *
          step *
          step *
          p *
          (middle * density(readings[1], true) + (1 - middle) * density(readings[1], false))
      }
    }
    expect(Math.abs(logEvidence - Math.log(sum))).toBeLessThan(0.1)
  })

  test('before any reading the weights are the chances of the two sides', () => {
    const { states } = belief(single, [1], [], () => [])
    const [first] = predictive(states[0], branches(0))
    const on = first.normals.filter(({ mean }) => mean > 6).reduce((s, { weight }) => s + weight, 0)
    expect(on).toBeCloseTo(normalCdf(0.4 / Math.hypot(0.8, 0.5)), 9)
  })
})

describe('outcomes other than a number', () => {
  test('over-range is the chance of lying beyond the limit', () => {
    const evidence: GroupEvidence[] = [
      { id: 'g', records: [{ id: 'ohms', outcome: { kind: 'over-range', limit: 40 }, error: 0 }] },
    ]
    const { logEvidence } = belief(single, [1], evidence, () => one(predicted(38, row(1.5))))
    expect(Math.exp(logEvidence)).toBeCloseTo(1 - normalCdf(2 / 1.5), 12)
  })

  test('an interval is the chance of lying within', () => {
    const evidence: GroupEvidence[] = [
      { id: 'g', records: [{ id: 'p', outcome: { kind: 'interval', low: 1, high: 2 }, error: 0 }] },
    ]
    const { logEvidence } = belief(single, [1], evidence, () => one(predicted(1.2, row(0.4))))
    expect(Math.exp(logEvidence)).toBeCloseTo(normalInterval(-0.5, 2), 12)
  })

  test('a floating node is half as computed and half anywhere between the live potentials', () => {
    const floating = { ...predicted(6, row(0.1)), broad: { weight: 0.5, low: 0, high: 12 } }
    const evidence = [{ id: 'g', records: [shown('p', 3)] }]
    const { logEvidence } = belief(single, [1], evidence, () => one(floating))
    expect(Math.exp(logEvidence)).toBeCloseTo((0.5 * 0.01) / 12, 9)
  })

  test('a number where words were predicted is only a wrong record', () => {
    const evidence = [{ id: 'g', records: [shown('p', 3, 0.005, 0.02)] }]
    const words: Branch[] = [{ conditions: [], predictions: [{ kind: 'words', probabilities: [0.5, 0.5] }] }]
    expect(Math.exp(belief(single, [1], evidence, () => words).logEvidence)).toBeCloseTo((0.02 * 0.01) / 40, 12)
  })
})

describe('something not in this description', () => {
  const cells = [0, 1].map((hypothesis) => ({ hypothesis, weight: 1 }))
  const points = [
    [12, 6, 6],
    [12, 0, 0],
  ]
  const after = (...values: number[]) =>
    belief(
      cells,
      [0.5, 0.5],
      [{ id: 'g', records: values.map((v, i) => shown(`r${i}`, v, 0.005, 0.02)) }],
      (cell) => one(...values.map((_, i) => predicted(points[cell][i], row(0.1), 0.01))),
      { unknown: 0.03 },
    )

  test('one odd reading leaves a modelled hypothesis ahead', () => {
    const { unknown, probability } = after(12, 6, 3.3)
    expect(unknown).toBeLessThan(0.5)
    expect(probability[0] + probability[1] + unknown).toBeCloseTo(1, 12)
  })

  test('two odd readings make it the likeliest', () => {
    expect(after(12, 9.1, 3.3).unknown).toBeGreaterThan(0.5)
  })

  test('readings as modelled make it less likely than before', () => {
    expect(after(12, 6.02, 6.01).unknown).toBeLessThan(0.03)
  })
})

describe('mistakes of the caller', () => {
  test('a record that may be wrong needs a range', () => {
    const record: EvidenceRecord = { id: 'p', outcome: { kind: 'number', value: 1, halfWidth: 0.1 }, error: 0.02 }
    expect(() => belief(single, [1], [{ id: 'g', records: [record] }], () => one(predicted(1, row(1))))).toThrow(/'p'.*range/)
  })

  test('a missing prediction is said', () => {
    expect(() => belief(single, [1], [{ id: 'g', records: [shown('p', 1)] }], () => one())).toThrow(
      /1 records, but 0 predictions/,
    )
  })
})

test('an impossible list is a contradiction, and no belief', () => {
  const evidence: GroupEvidence[] = [
    { id: 'g', records: [{ id: 'look', outcome: { kind: 'word', word: 1, words: 2 }, error: 0 }] },
  ]
  const result = belief(single, [1], evidence, () => [
    { conditions: [], predictions: [{ kind: 'words', probabilities: [1, 0] }] },
  ])
  expect(result.contradiction).toBe(true)
  expect([...result.probability]).toEqual([0])
})
