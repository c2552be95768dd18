import fc from 'fast-check'
import { expect, test } from 'vitest'
import { NetworkError } from '../errors.js'
import { type Settled, settle, type Unsettled } from '../settle.js'
import { contact, diode, drive, lamp, network, resistor, restContact, source, threshold } from '../testing/notation.js'
import type { Element, Network, Signal } from '../types.js'
import { Campaign, type Outcome } from './campaign.js'
import { bothFaults, faulted, type NetworkFault } from './fault.js'

const NODES = 14
const at = (n: number) => (n === 0 ? '0' : `n${n}`)

interface Shape {
  tree: number[]
  ohms: number[]
  links: [number, number][]
  kinds: number[]
}

/** A battery at n1, a random tree of parts down from it, some links and ways to ground, a relay now and then. */
function build({ tree, ohms, links, kinds }: Shape, live: boolean): Network {
  const elements: Element[] = [source('battery', 'n1', '0', 24), source('soft', 'n2', '0', 13, 0.05)]
  const signals: Signal[] = []
  const part = (id: string, a: string, b: string, n: number) => {
    const kind = live ? kinds[n % kinds.length] : 0
    const ohm = ohms[n % ohms.length]
    if (kind === 1) elements.push(lamp(id, a, b, 21, 24))
    else if (kind === 2) elements.push(diode(id, a, b))
    else if (kind === 3 || kind === 4) {
      signals.push(threshold(`t${id}`, at(1 + ((n * 5) % (NODES - 1))), 9 + (n % 7), 3 + (n % 5), at((n * 3) % NODES)))
      elements.push(kind === 3 ? contact(id, a, b, `t${id}`) : restContact(id, a, b, `t${id}`))
    } else elements.push(resistor(id, a, b, ohm))
  }
  tree.forEach((up, n) => part(`w${n}`, at(n + 2), at(up % (n + 2)), n))
  links.forEach(([a, b], n) => part(`l${n}`, at(a), at(b), n + 3))
  elements.push(drive('leak', at(NODES - 1), '0', 0.01))
  return network(elements, signals)
}

const power = (min: number, max: number) => fc.double({ min, max, noNaN: true }).map((p) => 10 ** p)
const pair = fc.tuple(fc.nat(NODES - 1), fc.nat(NODES - 1)).filter(([i, j]) => i !== j)
const shapes = fc.record({
  tree: fc.array(fc.nat(NODES), { minLength: NODES - 2, maxLength: NODES - 2 }),
  ohms: fc.array(power(-3, 3), { minLength: 5, maxLength: 9 }),
  links: fc.array(pair, { minLength: 3, maxLength: 8 }),
  kinds: fc.array(fc.nat(6), { minLength: 7, maxLength: 7 }),
})
const seeds = fc.array(fc.tuple(fc.nat(1000), fc.constantFrom(1e12, 1e9, 50, 1e-3, 1e-6), fc.nat(4), pair), {
  minLength: 8,
  maxLength: 8,
})

/** Opens, shorts, welded and lost parts, other sources, bridges, drifted levels. */
function faultsOf(net: Network, wanted: [number, number, number, [number, number]][]): NetworkFault[] {
  return wanted.map(([n, ohm, kind, [a, b]], i) => {
    const id = `f${i}`
    const position = n % net.elements.length
    const old = net.elements[position]
    if (kind === 4 && net.signals.length > 0) {
      const place = n % net.signals.length
      const signal = net.signals[place] as Extract<Signal, { type: 'threshold' }>
      return {
        id,
        changes: [],
        signals: [{ position: place, signal: { ...signal, rise: signal.rise * 0.7, fall: signal.fall * 0.7 } }],
      }
    }
    if (kind === 3) return { id, changes: [], added: [resistor('bridge', at(a), at(b), ohm)] }
    if (old.type === 'across' || old.type === 'through')
      return { id, changes: [{ position, element: { ...old, value: old.value / 2 } }] }
    if (!('a' in old)) return { id, changes: [] }
    return { id, changes: [{ position, element: resistor(old.id, old.a, old.b, ohm) }] }
  })
}

function bySettle(net: Network, fault: NetworkFault): Settled | Unsettled | NetworkError {
  try {
    return settle(faulted(net, fault))
  } catch (error) {
    if (error instanceof NetworkError) return error
    throw error
  }
}

/** In what an outcome differs from the full solve; undefined where it does not. */
function apart(outcome: Outcome, full: Settled | Unsettled | NetworkError, largest: number): string | undefined {
  if (full instanceof NetworkError)
    return outcome.status === 'refused' ? undefined : `${outcome.status}, but refused: ${full.message}`
  if (outcome.status !== full.status) return `${outcome.status}, but ${full.status}`
  if (outcome.status === 'settled' && full.status === 'settled') {
    if (outcome.bits.some((bit, i) => bit !== full.bits[i])) return 'other signals'
    const most = Math.max(...outcome.across.map((value, i) => Math.abs(value - full.point.across[i])))
    return most <= 1e-9 * largest ? undefined : `${most} apart`
  }
  if ('parts' in outcome && 'parts' in full) return outcome.parts.join() === full.parts.join() ? undefined : 'other parts'
  return undefined
}

const compare = (live: boolean, numRuns: number) => {
  let paths = 0
  let all = 0
  fc.assert(
    fc.property(shapes, seeds, (shape, wanted) => {
      const net = build(shape, live)
      const run = new Campaign(net)
      const singles = faultsOf(net, wanted)
      const faults = [...singles, ...singles.slice(1).map((fault, i) => bothFaults(singles[i], fault))]
      for (const fault of faults) {
        const wrong = apart(run.solve(fault), bySettle(net, fault), 24)
        if (wrong) throw new Error(`${fault.id}: ${wrong}: ${JSON.stringify(fault)}`)
      }
      paths += run.counts.byPath
      all += faults.length
    }),
    { numRuns, seed: 7 },
  )
  return paths / all
}

test('opens, shorts, bridges and pairs of a linear network end as the full solve says', () => {
  expect(compare(false, 150)).toBe(1)
})

test('with lamps, diodes and relays too, nearly all by path', () => {
  expect(compare(true, 200)).toBeGreaterThan(0.8)
})
