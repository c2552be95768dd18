import fc from 'fast-check'
import { expect, test } from 'vitest'
import { type ConsistencyModel, explanations, smallestExplanations } from './explanations.js'

/** Sets that hit each of the conflicts explain; what is not hit yet is the next conflict. */
const hitting = (conflicts: readonly number[][]): ConsistencyModel => {
  const open = (set: readonly number[]) => conflicts.find((conflict) => !conflict.some((item) => set.includes(item)))
  return {
    explains: (set, items) => items.map((item) => open([...set, item]) === undefined),
    conflict: (set, isSettled) => open(set)?.filter((item) => !isSettled[item]),
  }
}

/** Minimal hitting sets, worked out one by one. */
function minimalHittingSets(conflicts: readonly number[][], items: number): number[][] {
  const sets = Array.from({ length: 2 ** items }, (_, bits) =>
    Array.from({ length: items }, (_, n) => n).filter((n) => (bits >> n) & 1),
  )
  const hits = sets.filter((set) => conflicts.every((conflict) => conflict.some((item) => set.includes(item))))
  return hits.filter((set) => !hits.some((other) => other.length < set.length && other.every((item) => set.includes(item))))
}

const ITEMS = 8
const conflicts = fc.array(fc.uniqueArray(fc.nat(ITEMS - 1), { minLength: 1, maxLength: 5 }), { maxLength: 6 })
const key = (set: readonly number[]): string => [...set].sort((p, q) => p - q).join(',')

test('the explanations are the minimal hitting sets, each once, in falling weight', () => {
  const weights = fc.array(fc.double({ min: 1e-6, max: 0.99, noNaN: true }), { minLength: ITEMS, maxLength: ITEMS })
  fc.assert(
    fc.property(conflicts, weights, (all, odds) => {
      const given = [...explanations(hitting(all), odds)]
      expect(given.map(({ items }) => key(items)).sort()).toEqual(minimalHittingSets(all, ITEMS).map(key).sort())
      given.forEach(({ items, weight }, n) => {
        const product = items.reduce((sum, item) => sum * odds[item], 1)
        expect(Math.abs(weight - product)).toBeLessThanOrEqual(1e-12 * product)
        expect(weight).toBeLessThanOrEqual(n > 0 ? given[n - 1].weight : weight)
      })
    }),
  )
})

test('the smallest explanations are the smallest of all', () => {
  fc.assert(
    fc.property(conflicts, (all) => {
      const minimal = minimalHittingSets(all, ITEMS)
      const least = Math.min(...minimal.map((set) => set.length))
      const found = smallestExplanations(hitting(all), ITEMS)
      expect(found.map(key).sort()).toEqual(
        minimal
          .filter((set) => set.length === least)
          .map(key)
          .sort(),
      )
      expect(smallestExplanations(hitting(all), ITEMS, { largest: least })).toEqual(found)
      const smaller = least > 0 ? smallestExplanations(hitting(all), ITEMS, { largest: least - 1 }) : []
      expect(smaller).toEqual([])
    }),
  )
})

test('where nothing is amiss the empty set is the one explanation, and where nothing helps there is none', () => {
  expect([...explanations(hitting([]), [0.1, 0.2])]).toEqual([{ items: [], weight: 1 }])
  expect([...explanations(hitting([[0], []]), [0.1, 0.2])]).toEqual([])
})

test('odds of one and more are refused, for a larger set might come first', () => {
  expect(() => explanations(hitting([]), [0.1, 1])).toThrow('item 1 has the odds 1')
})
