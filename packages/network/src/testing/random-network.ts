import { createRandom } from '@halfsplit/core'
import type { NetworkFault } from '../campaign/fault.js'
import type { Element, Network, Signal } from '../types.js'
import { contact, diode, drive, lamp, network, resistor, restContact, source, threshold } from './notation.js'

/** What a random network is made of: numbers from anywhere, each taken modulo what there is. */
export interface Shape {
  /** By node from n3 on: the node that feeds it. */
  tree: number[]
  links: [number, number][]
  ohms: number[]
  kinds: number[]
}

/** What a random fault does: to which part, with how many ohms, in which way, between which nodes. */
export type Blow = [part: number, ohm: number, kind: number, ends: [number, number]]

const at = (n: number) => (n === 0 ? '0' : `n${n}`)

/** A battery at n1, a soft one at n2, a random tree of parts down from them, links across; `live` with lamps, diodes and relays. */
export function randomNetwork({ tree, ohms, links, kinds }: Shape, live: boolean): Network {
  const count = tree.length + 3
  const elements: Element[] = [source('battery', 'n1', '0', 24), source('soft', 'n2', '0', 13, 0.05)]
  const signals: Signal[] = []
  const part = (id: string, a: string, b: string, n: number) => {
    const kind = live ? kinds[n % kinds.length] : 0
    if (kind === 1) elements.push(lamp(id, a, b, 21, 24))
    else if (kind === 2) elements.push(diode(id, a, b))
    else if (kind === 3 || kind === 4) {
      signals.push(threshold(`t${id}`, at(1 + ((n * 5) % (count - 1))), 9 + (n % 7), 3 + (n % 5), at((n * 3) % count)))
      elements.push(kind === 3 ? contact(id, a, b, `t${id}`) : restContact(id, a, b, `t${id}`))
    } else elements.push(resistor(id, a, b, ohms[n % ohms.length]))
  }
  tree.forEach((up, n) => part(`w${n}`, at(n + 3), at(up % (n + 3)), n))
  links.forEach(([a, b], n) => {
    if (a % count !== b % count) part(`l${n}`, at(a % count), at(b % count), n + 3)
  })
  elements.push(drive('leak', at(count - 1), '0', 0.01))
  return network(elements, signals)
}

/** Opens, shorts, welded and lost parts, sources at half their value, bridges, drifted levels. */
export function randomFaults(net: Network, blows: readonly Blow[]): NetworkFault[] {
  return blows.map(([part, ohm, kind, [p, q]], n) => {
    const id = `f${n}`
    const position = part % net.elements.length
    const old = net.elements[position]
    if (kind === 4 && net.signals.length > 0) {
      const place = part % net.signals.length
      const signal = net.signals[place] as Extract<Signal, { type: 'threshold' }>
      const drifted = { ...signal, rise: signal.rise * 0.7, fall: signal.fall * 0.7 }
      return { id, changes: [], signals: [{ position: place, signal: drifted }] }
    }
    const count = net.nodes.length + 1
    if (kind === 3 && p % count !== q % count)
      return { id, changes: [], added: [resistor('bridge', at(p % count), at(q % count), ohm)] }
    if (old.type === 'across' || old.type === 'through')
      return { id, changes: [{ position, element: { ...old, value: old.value / 2 } }] }
    return { id, changes: 'a' in old ? [{ position, element: resistor(old.id, old.a, old.b, ohm) }] : [] }
  })
}

/** Ohms of a fault: opens, a poor joint, shorts. */
export const FAULT_OHMS = [1e12, 1e9, 50, 1e-3, 1e-6]

/** A shape and blows drawn from a seed, for networks too large to be shrunk. */
export function drawn(seed: string, nodes: number, blows: number): { shape: Shape; blows: Blow[] } {
  const random = createRandom(seed)
  const some = <T>(count: number, one: () => T): T[] => Array.from({ length: count }, one)
  const any = () => random.integer(1 << 30)
  const ends = (): [number, number] => [any(), any()]
  const shape = {
    tree: some(nodes - 2, () => (random.uniform() < 0.25 ? random.integer(4) : any())),
    links: some(Math.ceil(nodes / 5), ends),
    ohms: some(11, () => 10 ** (6 * random.uniform() - 3)),
    kinds: some(13, () => random.integer(12)),
  }
  return { shape, blows: some(blows, () => [any(), FAULT_OHMS[random.integer(FAULT_OHMS.length)], random.integer(5), ends()]) }
}
