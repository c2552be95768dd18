import { expect, test } from 'vitest'
import { exactTableTest, fisherTest } from './contingency.js'

test('a table of two suppliers, as scipy 1.17.1 has it', () => {
  const { twoSided, firstFailsMore, firstFailsLess, sampleOddsRatio } = fisherTest([
    [8, 2],
    [1, 5],
  ])
  expect(twoSided).toBeCloseTo(0.034965034965034975, 14)
  expect(firstFailsMore).toBeCloseTo(0.024475524475524483, 14)
  expect(firstFailsLess).toBeCloseTo(1 - 0.024475524475524483 + (45 * 6) / 11440, 14)
  expect(sampleOddsRatio).toBe(20)
})

test('tables that are exactly as probable as the one seen count with it', () => {
  // Margins 2 and 2: the tables have 1, 4 and 1 ways of 6, so the two ends together are 2 of 6.
  expect(
    fisherTest([
      [2, 0],
      [0, 2],
    ]).twoSided,
  ).toBeCloseTo(2 / 6, 15)
  expect(
    fisherTest([
      [1, 1],
      [1, 1],
    ]).twoSided,
  ).toBe(1)
})

test('three suppliers and three outcomes by hand', () => {
  // Each row holds one, each column one: six tables, all alike.
  expect(
    exactTableTest([
      [1, 0, 0],
      [0, 1, 0],
      [0, 0, 1],
    ]),
  ).toBe(1)
  // Rows of 1, 1 and 2 with 2 failed: 1, 2, 2 and 1 ways of 6; (1, 1, 0) has 1, and so has (0, 0, 2).
  expect(
    exactTableTest([
      [1, 0],
      [1, 0],
      [0, 2],
    ]),
  ).toBeCloseTo(2 / 6, 15)
})

test('counts in the thousands keep small probabilities', () => {
  const { twoSided, firstFailsMore } = fisherTest([
    [300, 700],
    [0, 1000],
  ])
  // All 300 failures among the first thousand of two: the product of (1000 - i)/(2000 - i).
  const all = Array.from({ length: 300 }, (_, i) => Math.log((1000 - i) / (2000 - i))).reduce((sum, one) => sum + one, 0)
  expect(Math.log(firstFailsMore)).toBeCloseTo(all, 9)
  expect(twoSided / firstFailsMore).toBeCloseTo(2, 9)
})
