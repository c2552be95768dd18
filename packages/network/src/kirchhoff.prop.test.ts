import fc from 'fast-check'
import { expect, test } from 'vitest'
import { probeValue } from './probe.js'
import { type Settled, settle } from './settle.js'
import { contact, diode, drive, lamp, network, resistor, source } from './testing/notation.js'
import type { Element, Network, Signal } from './types.js'

const KINDS = ['wire', 'ohm', 'open', 'lamp', 'diode', 'contact', 'source', 'cell', 'drive'] as const

const signals: Signal[] = [
  { type: 'imposed', id: 'on', value: true },
  { type: 'imposed', id: 'off', value: false },
]

function element(kind: (typeof KINDS)[number], n: number, a: string, b: string): Element {
  const id = `${kind}${n}`
  switch (kind) {
    case 'wire':
      return resistor(id, a, b, 0.002)
    case 'ohm':
      return resistor(id, a, b, 3 * (n + 1))
    case 'open':
      return resistor(id, a, b, 1e12)
    case 'lamp':
      return lamp(id, a, b, 21, 24)
    case 'diode':
      return diode(id, a, b)
    case 'contact':
      return contact(id, a, b, n % 2 ? 'on' : 'off')
    case 'source':
      return source(id, a, b, 12, 0.02)
    case 'cell':
      return source(id, a, b, 1.5 + n, 0)
    case 'drive':
      return drive(id, a, b, 0.3)
  }
}

const name = (n: number) => (n === 0 ? '0' : `n${n}`)

/** Random networks of six nodes on a spanning chain of resistors; at most one ideal cell, so that none can contradict. */
const networks = (kinds: readonly (typeof KINDS)[number][]) =>
  fc
    .array(fc.record({ kind: fc.constantFrom(...kinds), a: fc.nat(6), b: fc.nat(6) }), { minLength: 2, maxLength: 12 })
    .map((list) => {
      const chain = [1, 2, 3, 4, 5, 6].map((n) => resistor(`chain${n}`, name(n - 1), name(n), 10 ** (n - 3)))
      const first = list.findIndex(({ kind, a, b }) => kind === 'cell' && a !== b)
      const picked = list.filter(({ kind, a, b }, n) => a !== b && (kind !== 'cell' || n === first))
      return network([...chain, ...picked.map(({ kind, a, b }, n) => element(kind, n, name(a), name(b)))], signals)
    })

const solved = (net: Network): Settled => {
  const result = settle(net)
  if (result.status !== 'settled') throw new Error(`${result.status}: ${result.parts.join(', ')}`)
  return result
}

/** What leaves a node through its elements and its insulation, and the size of what it is the sum of. */
function balance(settled: Settled, id: string): { sum: number; size: number } {
  const { network: net } = settled.circuit
  const node = net.nodes.find((one) => one.id === id)
  const volt = probeValue(settled, { across: { [id]: 1 } })
  const flows = net.elements.flatMap((one) => {
    if (!('a' in one) || one.a === one.b) return []
    const flow = probeValue(settled, { through: one.id })
    // A source delivers out of its end a; every other element carries from a to b.
    const out = one.type === 'across' || one.type === 'through' ? -flow : flow
    return one.a === id ? [out] : one.b === id ? [-out] : []
  })
  const leak = (node?.insulation ?? 0) * volt
  return {
    sum: flows.reduce((total, flow) => total + flow, leak),
    size: flows.reduce((total, flow) => total + Math.abs(flow), 0),
  }
}

test('flows sum to zero at every node', () => {
  fc.assert(
    fc.property(networks(KINDS), (net) => {
      const settled = solved(net)
      for (const { id } of net.nodes) {
        const { sum, size } = balance(settled, id)
        // 2 mOhm wires turn the last digit of 12 V into some 1e-12 A.
        expect(Math.abs(sum)).toBeLessThan(1e-9 * (1 + size))
      }
    }),
    { numRuns: 300 },
  )
})

test('a fault of size zero is the healthy network, bit for bit', () => {
  fc.assert(
    fc.property(networks(KINDS), fc.nat(), (net, pick) => {
      const position = pick % net.elements.length
      const elements = net.elements.map((one, n) => (n === position ? structuredClone(one) : one))
      expect(solved({ ...net, elements }).point.across).toEqual(solved(net).point.across)
    }),
    { numRuns: 60 },
  )
})

test('a short of no conductance and a series joint of nearly no resistance change nothing', () => {
  fc.assert(
    fc.property(networks(['wire', 'ohm', 'lamp', 'diode', 'source']), fc.integer({ min: 1, max: 6 }), (net, n) => {
      const healthy = solved(net)
      const none: Element = { type: 'law', id: 'short', a: name(n), b: '0', law: { law: 'linear', g: 0 } }
      const shorted = solved({ ...net, elements: [...net.elements, none] })
      const joint = resistor('joint', 'tail', name(n), 1e-9)
      const tail = { id: 'tail', domain: 'electrical' as const, insulation: 0, rest: 0 }
      const joined = solved({ ...net, nodes: [...net.nodes, tail], elements: [...net.elements, joint] })
      for (const { id } of net.nodes) {
        const volt = probeValue(healthy, { across: { [id]: 1 } })
        for (const other of [shorted, joined]) {
          expect(Math.abs(probeValue(other, { across: { [id]: 1 } }) - volt)).toBeLessThan(1e-9 * (1 + Math.abs(volt)))
        }
      }
    }),
    { numRuns: 100 },
  )
})

test('linear resistive networks are reciprocal: 1 A in at p seen at q is 1 A in at q seen at p', () => {
  const ends = fc.tuple(fc.integer({ min: 1, max: 6 }), fc.integer({ min: 1, max: 6 }))
  fc.assert(
    fc.property(networks(['wire', 'ohm', 'open', 'contact']), ends, (net, [p, q]) => {
      const seen = (at: number, into: number) =>
        probeValue(solved({ ...net, elements: [...net.elements, drive('probe', name(into), '0', 1)] }), {
          across: { [name(at)]: 1 },
        })
      expect(seen(p, q) / seen(q, p)).toBeCloseTo(1, 11)
    }),
    { numRuns: 150 },
  )
})

test('the order in which parts are listed does not matter', () => {
  fc.assert(
    fc.property(networks(KINDS), (net) => {
      const turned = solved({ ...net, elements: net.elements.toReversed(), nodes: net.nodes.toReversed() })
      const settled = solved(net)
      for (const { id } of net.nodes) {
        const [v, w] = [settled, turned].map((one) => probeValue(one, { across: { [id]: 1 } }))
        expect(Math.abs(v - w)).toBeLessThan(1e-8 * (1 + Math.abs(v)))
      }
    }),
    { numRuns: 100 },
  )
})
