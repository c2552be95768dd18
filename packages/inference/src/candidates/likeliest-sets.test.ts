import { expect, test } from 'vitest'
import { likeliestSets } from './likeliest-sets.js'

const itemsOf = (sets: Iterable<{ items: readonly number[] }>) => Array.from(sets, ({ items }) => items)

test('a machine with nothing wrong comes first, then faults and pairs as their odds ask', () => {
  expect([...likeliestSets([0.1, 0.5, 0.2])]).toEqual([
    { items: [], weight: 1 },
    { items: [1], weight: 0.5 },
    { items: [2], weight: 0.2 },
    { items: [0], weight: 0.1 },
    { items: [1, 2], weight: 0.1 },
    { items: [0, 1], weight: 0.05 },
    { items: [0, 2], weight: 0.2 * 0.1 },
    { items: [0, 1, 2], weight: 0.5 * 0.2 * 0.1 },
  ])
})

test('equal odds: by the number of faults, then in order', () => {
  const pairs = [[0, 1], [0, 2], [0, 3], [1, 2], [1, 3], [2, 3]] // biome-ignore format: a row
  expect(itemsOf(likeliestSets([0.25, 0.25, 0.25, 0.25], { largest: 2 }))).toEqual([[], [0], [1], [2], [3], ...pairs])
})

test('what is more likely than not is in the likeliest set', () => {
  const [first, second] = likeliestSets([0.1, 4, 0.3])
  expect(first).toEqual({ items: [1], weight: 4 })
  expect(second.items).toEqual([1, 2])
})

test('two modes of one part never come together, and the total counts it so', () => {
  const sets = likeliestSets([0.1, 0.2, 0.3], { groups: [7, 7, 8] })
  expect(sets.total).toBeCloseTo(1.3 * 1.3, 14)
  expect(itemsOf(sets)).not.toContainEqual([0, 1])
  expect(sets.leftOut()).toBe(0)
})

test('a weight of 1e-24 left out is told to the digit beside a total of 1', () => {
  const sets = likeliestSets([1e-12, 1e-12])
  for (let n = 0; n < 3; n += 1) sets.next()
  expect(sets.leftOut()).toBeCloseTo(1e-24, 35)
  expect(sets.next()?.items).toEqual([0, 1])
  expect(sets.next()).toBeUndefined()
})

test('nothing below the weight asked for is made, and the sets go on from there', () => {
  const sets = likeliestSets([0.1, 0.01])
  expect([sets.next(0.05), sets.next(0.05), sets.next(0.05)].map((set) => set?.items)).toEqual([[], [0], undefined])
  expect(sets.next()?.items).toEqual([1])
})

test('the likeliest thousands of three thousand faults come singles before pairs, and what is left out falls', () => {
  const weights = Array.from({ length: 3000 }, (_, n) => 1e-4 / (1 + n))
  const sets = likeliestSets(weights)
  let last = { items: [] as readonly number[], weight: 2 }
  for (let n = 0; n < 20_000; n += 1) {
    const set = sets.next() as typeof last
    expect(set.weight).toBeLessThanOrEqual(last.weight)
    last = set
  }
  const singles = weights.reduce((sum, weight) => sum + weight, 0)
  expect(sets.leftOut()).toBeGreaterThan(0)
  expect(sets.leftOut()).toBeLessThan((singles * singles) / 2)
})

test('odds that are none are refused', () => {
  expect(() => likeliestSets([0.1, -1])).toThrow('item 1 has the odds -1')
  expect(() => likeliestSets([Number.NaN])).toThrow(RangeError)
  expect(() => likeliestSets([Number.POSITIVE_INFINITY])).toThrow(RangeError)
})
