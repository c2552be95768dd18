import { expect, test } from 'vitest'
import { ASSUMPTIONS } from '@halfsplit/core'
import { bench, complaint, reading, seen } from '../testing/relay-lamp.js'
import { clearing, setsOf } from './clearing.js'
import { readingPlaces } from './place.js'
import { Subsets } from './subsets.js'
import { suspectCases } from './suspect.js'

const LOG = [
  seen('on: look E1.light', 'dark'),
  reading('key: volts F1.b BAT.minus', 12.5),
  reading('on: volts X1.1/a X1.1/b', 11.9),
]
const standing = bench.standing(LOG, complaint)
const subsets = new Subsets(standing)
const places = readingPlaces(standing)

test('with all readings the belief of the subset is the belief', () => {
  const all = subsets.repairsAfter(places)
  for (const { repair, probability } of standing.repairs.slice(0, 5)) expect(all.get(repair)).toBeCloseTo(probability, 4)
})

test('with none it is what the complaint alone leaves, but for sizes not looked at closely', () => {
  const alone = new Map(bench.standing([], complaint).repairs.map(({ repair, probability }) => [repair, probability]))
  const none = subsets.repairsAfter([])
  for (const [repair, probability] of [...alone].slice(0, 5)) expect((none.get(repair) ?? 0) / probability).toBeGreaterThan(0.8)
})

test('the set that clears a suspect clears it alone, and no smaller set does', () => {
  const { records, after, before } = clearing(subsets, places, 'replace E1')
  expect(before).toBeGreaterThan(ASSUMPTIONS.clearedBelow)
  expect(after).toBeLessThanOrEqual(ASSUMPTIONS.clearedBelow)
  if (!records) throw new Error('the lamp is not cleared')
  for (let size = 0; size < records.length; size += 1)
    for (const set of setsOf(places, size))
      expect(subsets.repairsAfter(set).get('replace E1') ?? 0).toBeGreaterThan(ASSUMPTIONS.clearedBelow)
})

test('the likeliest suspect is cleared by nothing, and that is known and not only not found', () => {
  const found = clearing(subsets, places, standing.repairs[0].repair)
  expect(found.records).toBeUndefined()
  expect(found.complete).toBe(true)
})

test('a suspect that the complaint alone leaves below the threshold needs no reading', () => {
  expect(clearing(subsets, places, 'replace BAT', 0.99)).toMatchObject({ records: [], complete: true })
})

test('sets come with early members first', () => {
  expect(setsOf(['a', 'b', 'c'], 2)).toEqual([
    ['a', 'b'],
    ['a', 'c'],
    ['b', 'c'],
  ])
  expect(setsOf(['a'], 0)).toEqual([[]])
})

test('what the readings say of a suspect stands for or against it, strongest first', () => {
  const [top, lamp] = suspectCases(standing, ['renew X1.1', 'replace E1'])
  expect(top.for[0].record.id).toBe('volts X1.1/a X1.1/b')
  expect(lamp.against[0].record.id).toBe('volts X1.1/a X1.1/b')
  expect(lamp.against[0].bits).toBeLessThan(-1)
  expect(top.for.map(({ bits }) => bits)).toEqual([...top.for].map(({ bits }) => bits).sort((p, q) => q - p))
})
