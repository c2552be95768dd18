import type { Adjoint } from './adjoint.js'
import type { Circuit } from './circuit.js'
import { compileGains, type Follower, lawAt } from './gains.js'
import { evaluate } from './laws.js'
import { flowOf } from './probe.js'
import type { Settled } from './settle.js'
import type { Element, Law } from './types.js'

/** A parameter given by what it does: the elements with their values at parameter + step, by element position. */
export interface Change {
  step: number
  elements: { position: number; element: Element }[]
}

/**
 * What each change does to the balance at a settled state, worked out once so that every probe is a short sum: extra flows
 * between two nodes, moves of held values, and moves of bordered sources, per unit of the parameter.
 */
export interface Slopes {
  count: number
  /** `element`: position of the element that carries the further flow. */
  flows: { change: number; element: number; a: number; b: number; flow: number }[]
  held: { change: number; node: number; value: number }[]
  borders: { change: number; border: number; value: number }[]
}

/**
 * What each change does to the balance at the settled state. The change of a flow is taken whole, as a difference at the settled
 * across quantities, so it is exact where the flow is linear in the parameter and otherwise as good as `step` is small.
 */
export function slopes(settled: Settled, changes: readonly Change[]): Slopes {
  const found: Slopes = { count: changes.length, flows: [], held: [], borders: [] }
  changes.forEach(({ step, elements }, change) => {
    for (const { position, element } of elements) addSlope({ found, settled, change, step, position }, element)
  })
  return found
}

/**
 * Derivative of a probe with each change, from the probe's adjoint. For the flow through an element add `direct`, how a
 * further flow counts in the probe itself (see `gradient`, which does).
 */
export function slopesOf(
  { count, flows, held, borders }: Slopes,
  { lambda, heldSlope, mu }: Adjoint,
  direct?: (element: number, a: number, b: number) => number,
): Float64Array {
  const sum = new Float64Array(count)
  for (const { change, element, a, b, flow } of flows) {
    sum[change] += (lambda[b] - lambda[a] + (direct ? direct(element, a, b) : 0)) * flow
  }
  for (const { change, node, value } of held) sum[change] += heldSlope[node] * value
  for (const { change, border, value } of borders) sum[change] += mu[border] * value
  return sum
}

interface Place {
  found: Slopes
  settled: Settled
  change: number
  step: number
  position: number
}

function addSlope(place: Place, changed: Element): void {
  const { found, settled, change, step, position } = place
  const { circuit, point, bits } = settled
  const old = circuit.network.elements[position]
  if (old.type === 'across' && changed.type === 'across') {
    addSource(place, old, changed)
  } else if (old.type === 'through' && changed.type === 'through') {
    addFlow(place, position, at(circuit, old.a), at(circuit, old.b), old.value - changed.value)
  } else if (old.type === 'motor' && changed.type === 'motor') {
    const border = borderOf(circuit, position)
    const taken = point.borderFlow[border]
    const shaft = at(circuit, old.shaft)
    const constant = changed.constant - old.constant
    const value = (changed.resistance - old.resistance) * taken + constant * point.across[shaft]
    found.borders.push({ change, border, value: value / step })
    addFlow(place, position, shaft, 0, -constant * taken)
  } else if (old.type === 'pump' && changed.type === 'pump') {
    const border = borderOf(circuit, position)
    const more = changed.displacement - old.displacement
    const [a, b, shaft] = [old.a, old.b, old.shaft].map((name) => point.across[at(circuit, name)])
    found.borders.push({ change, border, value: (-more * shaft) / step })
    found.borders.push({ change, border: border + 1, value: (-more * (b - a)) / step })
  } else if (old.type === 'store' && changed.type === 'store') {
    addHeld(place, (changed.holds ?? 0) - (old.holds ?? 0))
  } else {
    const before = lawOf(old, circuit, bits)
    const after = lawOf(changed, circuit, bits)
    if (!before || !after || !('a' in old)) return
    const [a, b] = [at(circuit, old.a), at(circuit, old.b)]
    const [xa, xb] = [point.across[a], point.across[b]]
    const now = (law: Law, of: Element) => evaluate(lawAt(law, gainsOf(of, circuit), point.across), xa, xb).f
    const more = now(after, changed) - now(before, old)
    addFlow(place, position, a, b, more)
    for (const heat of circuit.heats) {
      if (heat.of.element === position) addFlow(place, heat.element, 0, heat.node, (xa - xb) * more)
    }
  }
}

/** A held store stands for an ideal source. */
function addHeld({ found, settled, change, step, position }: Place, more: number): void {
  const held = settled.circuit.held.find((entry) => entry.element === position)
  const border = borderOf(settled.circuit, position)
  if (held) found.held.push({ change, node: held.node, value: (held.sign * more) / step })
  else if (border >= 0) found.borders.push({ change, border, value: more / step })
}

type Across = Extract<Element, { type: 'across' }>

function addSource(place: Place, old: Across, changed: Across): void {
  const { found, settled, change, step, position } = place
  const { circuit, point } = settled
  const held = circuit.held.find((entry) => entry.element === position)
  const border = borderOf(circuit, position)
  if (held) {
    const drop = changed.resistance > 0 ? changed.resistance * flowOf(settled, old.id) : 0
    found.held.push({ change, node: held.node, value: (held.sign * (changed.value - old.value - drop)) / step })
  } else if (border >= 0) {
    const value = changed.value - old.value - (changed.resistance - old.resistance) * point.borderFlow[border]
    found.borders.push({ change, border, value: value / step })
  } else if (old.resistance > 0) {
    const [a, b] = [at(circuit, old.a), at(circuit, old.b)]
    const across = point.across[a] - point.across[b]
    const delivered = (element: Across) => (element.value - across) / element.resistance
    addFlow(place, position, a, b, delivered(old) - delivered(changed))
  }
}

function addFlow({ found, change, step }: Place, element: number, a: number, b: number, more: number): void {
  found.flows.push({ change, element, a, b, flow: more / step })
}

const at = (circuit: Circuit, name: string): number => circuit.index.get(name) ?? 0

const borderOf = (circuit: Circuit, position: number): number => circuit.borders.findIndex((entry) => entry.element === position)

const gainsOf = (element: Element, { index }: Circuit): Follower[] =>
  element.type === 'law' || element.type === 'gate' ? compileGains(element.gains, index, element.id) : []

function lawOf(element: Element, circuit: Circuit, bits: Uint8Array): Law | undefined {
  if (element.type === 'law') return element.law
  if (element.type === 'gate') return bits[circuit.signalIndex.get(element.signal) ?? -1] ? element.on : element.off
  if (element.type === 'inertance') return { law: 'linear', g: 1 / element.resistance }
  return undefined
}
