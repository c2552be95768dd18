import { fileURLToPath } from 'node:url'
import { expect, test } from 'vitest'
import { relativeDifferences } from './relative-compare.js'
import { reliability } from './reliability.js'
import { tripPoint } from './trip-point.js'

const CASES = fileURLToPath(new URL('../../../../reference/oracle-cases', import.meta.url))

test('all reliability cases come out within 1e-9 relative', () => {
  expect(reliability(CASES).filter(({ outcome }) => outcome !== 'passed')).toEqual([])
})

test('all trip-point cases come out within 1e-6 K', () => {
  expect(tripPoint(CASES).filter(({ outcome }) => outcome !== 'passed')).toEqual([])
})

test('a small number is compared by its own size', () => {
  expect(relativeDifferences({ rate: 1.000001e-9 }, { rate: 1e-9 }, 1e-9)).toEqual(['rate: expected 1e-9, got 1.000001e-9'])
  expect(relativeDifferences({ rate: [1e-9, null] }, { rate: [1e-9, null] }, 1e-9)).toEqual([])
  expect(relativeDifferences({ rate: [1] }, { rate: [1, 2] }, 1e-9)).toEqual(['rate: expected a list of 2'])
})
