import fc from 'fast-check'
import { expect, test } from 'vitest'
import { likeliestSets } from './likeliest-sets.js'

/** All sets of up to 12 items, worked out one by one. */
function everySet(weights: readonly number[], isPossible: (items: readonly number[]) => boolean) {
  return Array.from({ length: 2 ** weights.length }, (_, bits) => weights.map((_, n) => n).filter((n) => (bits >> n) & 1))
    .filter(isPossible)
    .map((items) => ({ items, weight: items.reduce((product, item) => product * weights[item], 1) }))
    .sort((p, q) => q.weight - p.weight)
}

const oneAGroup =
  (groups: readonly number[]) =>
  (items: readonly number[]): boolean =>
    new Set(items.map((item) => groups[item])).size === items.length

const odds = fc.oneof(fc.double({ min: 1e-9, max: 0.9, noNaN: true }), fc.constantFrom(0, 0.01, 0.5, 1, 2, 7))
const problem = fc
  .array(fc.record({ weight: odds, group: fc.nat(5) }), { maxLength: 12 })
  .map((items) => ({ weights: items.map(({ weight }) => weight), groups: items.map(({ group }) => group) }))

const key = (items: readonly number[]): string => items.join(',')

test('all sets come once, in falling weight, the ones of enumeration', () => {
  fc.assert(
    fc.property(problem, fc.boolean(), ({ weights, groups }, isGrouped) => {
      const given = [...likeliestSets(weights, isGrouped ? { groups } : {})]
      const all = everySet(weights, isGrouped ? oneAGroup(groups) : () => true).filter(({ weight }) => weight > 0)
      expect(new Set(given.map(({ items }) => key(items)))).toEqual(new Set(all.map(({ items }) => key(items))))
      expect(given).toHaveLength(all.length)
      given.forEach(({ weight }, n) => {
        expect(Math.abs(weight - all[n].weight)).toBeLessThanOrEqual(1e-12 * all[n].weight)
        expect(weight).toBeLessThanOrEqual(n > 0 ? given[n - 1].weight : weight)
      })
    }),
  )
})

test('what is left out is what enumeration has left, to the digit even where it is tiny, whatever sizes are asked for', () => {
  fc.assert(
    fc.property(problem, fc.option(fc.nat(4)), fc.nat(40), ({ weights, groups }, largest, count) => {
      const sets = likeliestSets(weights, { groups, largest: largest ?? undefined })
      const given = new Set<string>()
      for (let n = 0; n < count; n += 1) {
        const set = sets.next()
        if (set) given.add(key(set.items))
      }
      const all = everySet(weights, oneAGroup(groups))
      const left = all.filter(({ items }) => !given.has(key(items))).reduceRight((sum, { weight }) => sum + weight, 0)
      expect(Math.abs(sets.leftOut() - left)).toBeLessThanOrEqual(1e-9 * left)
      const total = all.reduce((sum, { weight }) => sum + weight, 0)
      expect(Math.abs(sets.total - total)).toBeLessThanOrEqual(1e-12 * total)
    }),
  )
})

test('sets that are ruled out never come, all others do', () => {
  const pairs = fc.array(fc.tuple(fc.nat(11), fc.nat(11)), { maxLength: 8 })
  fc.assert(
    fc.property(problem, pairs, ({ weights }, apart) => {
      const allowed = (items: readonly number[]) => !apart.some(([p, q]) => p !== q && items.includes(p) && items.includes(q))
      const given = [...likeliestSets(weights, { allowed })]
      const all = everySet(weights, allowed).filter(({ weight }) => weight > 0)
      expect(new Set(given.map(({ items }) => key(items)))).toEqual(new Set(all.map(({ items }) => key(items))))
      expect(given).toHaveLength(all.length)
    }),
  )
})
