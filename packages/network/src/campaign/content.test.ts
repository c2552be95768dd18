import { expect, test } from 'vitest'
import { network, resistor, source } from '../testing/notation.js'
import { Campaign, type Outcome } from './campaign.js'
import { canonical, contentHash } from './content.js'
import type { NetworkFault } from './fault.js'

test('content is the same whatever the order of keys and whatever is left out', () => {
  expect(canonical({ b: [1, 'x'], a: undefined, c: { e: true, d: null } })).toBe('{"b":[1,"x"],"c":{"d":null,"e":true}}')
  expect(contentHash({ a: 1, b: 2 })).toBe(contentHash({ b: 2, a: 1 }))
  expect(contentHash({ a: 1 })).toMatch(/^[0-9a-f]{32}$/)
})

test('the last bit of a number, a place in a list and the type of a value all count', () => {
  const hashes = [[0.1 + 0.2], [0.3], [1, 2], [2, 1], ['1', 2], [1, [2]], [Number.NaN], [null], [Number.POSITIVE_INFINITY]].map(
    contentHash,
  )
  expect(new Set(hashes).size).toBe(hashes.length)
})

const feed = (volt: number) =>
  network([source('battery', 'post', '0', volt), resistor('joint', 'post', 'load', 0.01), resistor('load', 'load', '0', 4)])
const opened = (id: string): NetworkFault => ({
  id,
  changes: [{ position: 1, element: resistor('joint', 'post', 'load', 1e12) }],
})

test('a campaign run again is looked up: the same numbers, by content and not by name', () => {
  const store = new Map<string, Outcome>()
  const once = new Campaign(feed(24), { store })
  const first = once.solve(opened('joint.open'))
  if (first.status !== 'settled') throw new Error(first.status)
  const across = Float64Array.from(first.across)
  once.solve({ id: 'none', changes: [] })
  const again = new Campaign(feed(24), { store })
  expect(again.solve(opened('called otherwise'))).toMatchObject({ status: 'settled', across })
  expect(again.counts).toMatchObject({ settled: 1, stored: 1, byPath: 0 })
})

test('another network, another state before and another fault are not taken for the one stored', () => {
  const store = new Map<string, Outcome>()
  new Campaign(feed(24), { store }).solve(opened('open'))
  for (const run of [new Campaign(feed(12), { store }), new Campaign(feed(24), { store, previous: { relay: true } })]) {
    run.solve(opened('open'))
    expect(run.counts.stored).toBe(0)
  }
  const worn = resistor('joint', 'post', 'load', 1)
  const other = new Campaign(feed(24), { store })
  other.solve({ id: 'open', changes: [{ position: 1, element: worn }] })
  expect(other.counts.stored).toBe(0)
})
