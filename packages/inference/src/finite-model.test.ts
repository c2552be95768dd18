import { describe, expect, test } from 'vitest'
import {
  diagnoses,
  equationRelation,
  type FiniteModel,
  finiteBelief,
  measuringEntropy,
  minimalConflicts,
  minimalDiagnoses,
  parseEquation,
  partProbability,
  variableMarginal,
} from './index.js'

describe('equations of parts', () => {
  test.each([
    ['X=A*C (M1)', [2, 3], 6],
    ['Y = A - B + 2*C (S1)', [7, 4, 1], 5],
    ['Z=-A+10 (N1)', [3], 7],
  ])('%s', (text, inputs, value) => {
    expect(parseEquation(text)?.compute(inputs)).toBe(value)
  })

  test.each(['X=A/B (D1)', 'X=A', 'X= (M1)', 'X=A* (M1)'])('%s is none', (text) => {
    expect(parseEquation(text)).toBeNull()
  })
})

/** Two parts in a row, each adding one, in arithmetic modulo 4: A -> B -> C. */
const chain: FiniteModel = {
  parts: ['P', 'Q'].map((name) => ({ name, prior: 0.1 })),
  variables: ['A', 'B', 'C'].map((name) => ({ name, domain: [0, 1, 2, 3] })),
  relations: ['B=A+1 (P)', 'C=B+1 (Q)'].flatMap((text) => {
    const equation = parseEquation(text)
    return equation === null ? [] : [equationRelation(equation, 4)]
  }),
}
const seen = { A: 0, C: 3 }

test('either part of a chain explains a wrong end', () => {
  expect(minimalDiagnoses(chain, seen)).toEqual([['P'], ['Q']])
  expect(diagnoses(chain, seen)).toEqual([['P'], ['Q'], ['P', 'Q']])
  expect(minimalConflicts(chain, seen)).toEqual([['P', 'Q']])
})

test('probabilities by hand: each single 0.09/4, both 0.01/4', () => {
  const known = finiteBelief(chain, seen)
  const probability = partProbability(chain, known)
  expect(probability.P).toBeCloseTo((0.09 + 0.01) / 0.19, 12)
  expect(variableMarginal(chain, seen, known, 'B').get(1)).toBeCloseTo((0.09 + 0.01 / 4) / 0.19, 12)
})

test('measuring in the middle tells the two apart but for chance', () => {
  const { now, expected, information } = measuringEntropy(chain, seen, finiteBelief(chain, seen), 'B')
  expect(expected).toBeLessThan(now / 2)
  expect(expected + information).toBeCloseTo(now, 12)
})

test('a right end clears nobody for certain, for a wrong value may be right by chance', () => {
  const { sets, belief } = finiteBelief(chain, { A: 0, C: 2 })
  expect(belief.probability[sets.findIndex((set) => set.length === 0)]).toBeCloseTo(0.81 / (0.81 + 0.18 / 4 + 0.01 / 4), 12)
})
