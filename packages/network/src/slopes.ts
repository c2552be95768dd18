import type { Circuit } from './circuit.js'
import type { Change } from './gradient.js'
import { evaluate } from './laws.js'
import type { Adjoint } from './newton.js'
import type { Settled } from './settle.js'
import type { Element, Law } from './types.js'

/**
 * What each change does to the balance at a settled state, worked out once so that every probe is a short sum: extra flows
 * between two nodes, moves of held values, and moves of bordered sources, per unit of the parameter.
 */
export interface Slopes {
  count: number
  flows: { change: number; a: number; b: number; flow: number }[]
  held: { change: number; node: number; value: number }[]
  borders: { change: number; border: number; value: number }[]
}

export function slopes(settled: Settled, changes: readonly Change[]): Slopes {
  const found: Slopes = { count: changes.length, flows: [], held: [], borders: [] }
  changes.forEach(({ step, elements }, change) => {
    for (const { position, element } of elements) addSlope(found, settled, change, step, position, element)
  })
  return found
}

/** Derivative of a probe with each change, from the probe's adjoint. */
export function slopesOf({ count, flows, held, borders }: Slopes, { lambda, heldSlope, mu }: Adjoint): Float64Array {
  const sum = new Float64Array(count)
  for (const { change, a, b, flow } of flows) sum[change] -= (lambda[a] - lambda[b]) * flow
  for (const { change, node, value } of held) sum[change] += heldSlope[node] * value
  for (const { change, border, value } of borders) sum[change] += mu[border] * value
  return sum
}

function addSlope(found: Slopes, settled: Settled, change: number, step: number, position: number, changed: Element): void {
  const { circuit, point, bits } = settled
  const old = circuit.network.elements[position]
  const at = (name: string) => circuit.index.get(name) ?? 0
  const flow = (a: number, b: number, more: number) => found.flows.push({ change, a, b, flow: more / step })
  if (old.type === 'across' && changed.type === 'across') {
    addSource(found, settled, change, step, position, old, changed)
  } else if (old.type === 'through' && changed.type === 'through') {
    flow(at(old.a), at(old.b), old.value - changed.value)
  } else if (old.type === 'motor' && changed.type === 'motor') {
    const border = circuit.borders.findIndex((entry) => entry.element === position)
    const taken = point.borderFlow[border]
    const constant = changed.constant - old.constant
    const value = (changed.resistance - old.resistance) * taken + constant * point.across[at(old.shaft)]
    found.borders.push({ change, border, value: value / step })
    flow(at(old.shaft), 0, -constant * taken)
  } else {
    const before = lawOf(old, circuit, bits)
    const after = lawOf(changed, circuit, bits)
    if (!before || !after || !('a' in old)) return
    const a = at(old.a)
    const b = at(old.b)
    const x = point.across
    flow(a, b, evaluate(after, x[a], x[b]).f - evaluate(before, x[a], x[b]).f)
  }
}

type Across = Extract<Element, { type: 'across' }>

function addSource(found: Slopes, settled: Settled, change: number, step: number, position: number, old: Across, changed: Across): void {
  const { circuit, point } = settled
  const held = circuit.held.find((entry) => entry.element === position)
  if (held) {
    found.held.push({ change, node: held.node, value: (changed.value - old.value) / step })
    return
  }
  const border = circuit.borders.findIndex((entry) => entry.element === position)
  if (border >= 0) {
    const value = changed.value - old.value - (changed.resistance - old.resistance) * point.borderFlow[border]
    found.borders.push({ change, border, value: value / step })
    return
  }
  const a = circuit.index.get(old.a) ?? 0
  const b = circuit.index.get(old.b) ?? 0
  const across = point.across[a] - point.across[b]
  const delivered = (element: Across) => (element.value - across) / element.resistance
  found.flows.push({ change, a, b, flow: (delivered(old) - delivered(changed)) / step })
}

function lawOf(element: Element, circuit: Circuit, bits: Uint8Array): Law | undefined {
  if (element.type === 'law') return element.law
  if (element.type === 'gate') return bits[circuit.signalIndex.get(element.signal) ?? -1] ? element.on : element.off
  if (element.type === 'inertance') return { law: 'linear', g: 1 / element.resistance }
  return undefined
}
