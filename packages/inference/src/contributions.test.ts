import { expect, test } from 'vitest'
import { belief, contributions, decide, type EvidenceRecord, type GroupEvidence, type Predict } from './index.js'

const shown = (id: string, value: number): EvidenceRecord => ({
  id,
  outcome: { kind: 'number', value, halfWidth: 0.005 },
  error: 0.02,
  range: { low: 0, high: 40 },
})
const cells = [0, 1].map((hypothesis) => ({ hypothesis, weight: 1 }))

/** Two points: both hypotheses agree on the first, only hypothesis 1 expects the second to be low. */
const means: Record<string, readonly [number, number]> = { supply: [12, 12], load: [12, 9] }

function job(...records: EvidenceRecord[]) {
  const evidence: GroupEvidence[] = [{ id: 'g', records }]
  const predict: Predict = (cell) => [
    {
      conditions: [],
      predictions: records.map(({ id }) => ({
        kind: 'number',
        mean: means[id][cell],
        sensitivities: { index: [0], value: [0.3] },
        freshSd: 0.02,
      })),
    },
  ]
  const all = belief(cells, [0.5, 0.5], evidence, predict)
  return { all, said: contributions(cells, [0.5, 0.5], evidence, predict, all) }
}

test('a reading on which suspects agree speaks for none of them; one on which they differ speaks for the right one', () => {
  const { said } = job(shown('supply', 11.9), shown('load', 8.9))
  expect(said.map(({ record }) => record)).toEqual([0, 1])
  expect(Math.abs(said[0].decibans[1])).toBeLessThan(1)
  expect(said[1].decibans[1]).toBeGreaterThan(0)
  expect(said[1].decibans[0]).toBeLessThan(-20)
})

test('a contribution is the factor by which the record moved the probability', () => {
  const { all, said } = job(shown('supply', 11.9), shown('load', 11.7))
  const factor = all.probability[0] / said[1].ifWrong.probability[0]
  expect(said[1].decibans[0]).toBeCloseTo(10 * Math.log10(factor), 9)
})

test('without the one reading that decides, the verdict is open again: take this one again', () => {
  const { all, said } = job(shown('supply', 11.9), shown('load', 8.9))
  const verdict = (probability: ArrayLike<number>) =>
    decide(
      [
        { id: 'a', probability: probability[0] },
        { id: 'b', probability: probability[1] },
      ],
      0.9,
    ).kind
  expect(verdict(all.probability)).toBe('repair')
  expect(verdict(said[1].ifWrong.probability)).toBe('test-on')
  expect(verdict(said[0].ifWrong.probability)).toBe('repair')
})
