import fc from 'fast-check'
import { expect, test } from 'vitest'
import { isFiner, setKey, splitSet, splits } from './suspect-set.js'

const sets = fc.uniqueArray(fc.nat(99), { maxLength: 40 }).map((set) => set.sort((a, b) => a - b))

test('two sets have one key if and only if they are equal', () => {
  fc.assert(
    fc.property(sets, sets, (one, other) => {
      expect(setKey(one) === setKey(other)).toBe(one.join() === other.join())
      expect(setKey(one)).toBe(setKey([...one]))
    }),
  )
})

test('sets that differ only beyond the thirtieth suspect have different keys', () => {
  const keys = [[], [30], [31], [32], [63], [64], [30, 64]].map(setKey)
  expect(new Set(keys).size).toBe(keys.length)
})

test('a set is split by what a test shows, outcomes in rising order', () => {
  const row = [2, 0, 2, 1, 0]
  expect(splitSet([0, 1, 2, 4], row, 3)).toEqual([
    { outcome: 0, members: [1, 4] },
    { outcome: 2, members: [0, 2] },
  ])
  expect(splits([0, 2], row)).toBe(false)
  expect(splits([0, 1, 2], row)).toBe(true)
})

test('a test is finer within a set if it tells apart all that the other does there', () => {
  const fine = [0, 1, 2, 2]
  const coarse = [5, 5, 6, 7]
  expect(isFiner([0, 1, 2], fine, coarse)).toBe(true)
  expect(isFiner([0, 1, 2, 3], fine, coarse)).toBe(false)
})
