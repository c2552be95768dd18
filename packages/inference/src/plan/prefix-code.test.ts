import { expect, test } from 'vitest'
import { leastCostOfTests, prefixCodeLength } from './prefix-code.js'

test('four equal groups take two letters of two, and one letter of four', () => {
  expect(prefixCodeLength([1, 1, 1, 1], 2)).toBe(8)
  expect(prefixCodeLength([1, 1, 1, 1], 4)).toBe(4)
})

test('weights of a half, a quarter and two eighths have the lengths 1, 2, 3, 3', () => {
  expect(prefixCodeLength([1, 4, 1, 2], 2)).toBe(4 * 1 + 2 * 2 + 1 * 3 + 1 * 3)
})

test('with three letters the first merge of four groups takes only two, so that no letter at the top is wasted', () => {
  // Merging three first would give 1 + 1 + 1 + 6 = 3 + 9; merging two first gives 2 + 9.
  expect(prefixCodeLength([1, 1, 1, 6], 3)).toBe(2 + 9)
})

test('one group needs no test', () => {
  expect(prefixCodeLength([3], 2)).toBe(0)
})

test('the least cost of a mean number of tests is linear between sums of the cheapest', () => {
  const running = [0, 1, 3, 7]
  expect([0, 0.5, 1, 2.25, 3].map((number) => leastCostOfTests(running, number))).toEqual([0, 0.5, 1, 4, 7])
})
