import fc from 'fast-check'
import { expect, test } from 'vitest'
import { NetworkError } from '../errors.js'
import { type Settled, settle, type Unsettled } from '../settle.js'
import { type Blow, drawn, FAULT_OHMS, randomFaults, randomNetwork, type Shape } from '../testing/random-network.js'
import type { Network } from '../types.js'
import { Campaign, type Outcome } from './campaign.js'
import { bothFaults, faulted, type NetworkFault } from './fault.js'

const LARGEST = 24

const power = (min: number, max: number) => fc.double({ min, max, noNaN: true }).map((p) => 10 ** p)
const pair = fc.tuple(fc.nat(1000), fc.nat(1000))
const shapes: fc.Arbitrary<Shape> = fc.record({
  tree: fc.array(fc.nat(20), { minLength: 12, maxLength: 12 }),
  ohms: fc.array(power(-3, 3), { minLength: 5, maxLength: 9 }),
  links: fc.array(pair, { minLength: 3, maxLength: 8 }),
  kinds: fc.array(fc.nat(6), { minLength: 7, maxLength: 7 }),
})
const blows: fc.Arbitrary<Blow[]> = fc.array(fc.tuple(fc.nat(1000), fc.constantFrom(...FAULT_OHMS), fc.nat(4), pair), {
  minLength: 8,
  maxLength: 8,
})

function bySettle(net: Network, fault: NetworkFault): Settled | Unsettled | NetworkError {
  try {
    return settle(faulted(net, fault))
  } catch (error) {
    if (error instanceof NetworkError) return error
    throw error
  }
}

/** In what an outcome differs from the full solve; undefined where it does not. */
function apart(outcome: Outcome, full: Settled | Unsettled | NetworkError): string | undefined {
  if (full instanceof NetworkError)
    return outcome.status === 'refused' ? undefined : `${outcome.status}, but refused: ${full.message}`
  if (outcome.status === 'settled' && full.status === 'settled') {
    if (outcome.bits.some((bit, i) => bit !== full.bits[i])) return 'other signals'
    const most = outcome.across.reduce((worst, value, i) => Math.max(worst, Math.abs(value - full.point.across[i])), 0)
    return most <= 1e-9 * LARGEST ? undefined : `${most} apart`
  }
  if (outcome.status !== full.status) return `${outcome.status}, but ${full.status}`
  return 'parts' in outcome && 'parts' in full && outcome.parts.join() !== full.parts.join() ? 'other parts' : undefined
}

/** Every fault and every pair of neighbours in the list, each against the full solve. */
function differences(net: Network, list: readonly Blow[], run = new Campaign(net)): string[] {
  const singles = randomFaults(net, list)
  const pairs = singles.slice(1).map((fault, i) => bothFaults(singles[i], fault))
  return [...singles, ...pairs].flatMap((fault) => {
    const wrong = apart(run.solve(fault), bySettle(net, fault))
    return wrong ? [`${fault.id}: ${wrong}`] : []
  })
}

test('opens, shorts, bridges and pairs in a linear network end as the full solve says', () => {
  fc.assert(
    fc.property(shapes, blows, (shape, list) => {
      expect(differences(randomNetwork(shape, false), list)).toEqual([])
    }),
    { numRuns: 100, seed: 7 },
  )
})

test('so they do with lamps, diodes and relays: numbers, signals, chatter and races', () => {
  const seen = new Set<string>()
  fc.assert(
    fc.property(shapes, blows, (shape, list) => {
      const net = randomNetwork(shape, true)
      const run = new Campaign(net)
      expect(differences(net, list, run)).toEqual([])
      for (const [status, count] of Object.entries(run.counts)) if (count > 0) seen.add(status)
    }),
    { numRuns: 120, seed: 7 },
  )
  expect([...seen]).toEqual(expect.arrayContaining(['settled', 'chatters', 'byPath']))
})

test.each([
  { nodes: 150, live: false },
  { nodes: 400, live: false },
  { nodes: 150, live: true },
])('networks with a wide core: $nodes nodes, live: $live', ({ nodes, live }) => {
  for (const seed of ['a', 'b', 'c']) {
    const { shape, blows: list } = drawn(`${nodes} ${seed}`, nodes, 25)
    const net = randomNetwork(shape, live)
    expect(differences(net, list)).toEqual([])
  }
})

test('a fault comes out the same to the last bit whatever was solved before it', () => {
  const { shape, blows: list } = drawn('order', 80, 20)
  const net = randomNetwork(shape, true)
  const faults = randomFaults(net, list)
  const all = new Campaign(net)
  for (const fault of faults) {
    const one = new Campaign(net).solve(fault)
    const among = all.solve(fault)
    expect(among).toEqual(one)
  }
})
