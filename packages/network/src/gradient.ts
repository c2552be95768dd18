import type { Branch } from './circuit.js'
import { evaluate } from './laws.js'
import { type Adjoint, activeLaw, adjoint } from './newton.js'
import type { Settled } from './settle.js'
import type { Element } from './types.js'

/** A quantity read off a solved network: weights by node name (volts: +1 red, -1 black), or the flow through one element. */
export type Probe = { across: Record<string, number> } | { through: string }

/** A parameter given by what it does: the elements with their values at parameter + step, by element position. */
export interface Change {
  step: number
  elements: { position: number; element: Element }[]
}

/** Value of a probe at the settled state. */
export function probeValue(settled: Settled, probe: Probe): number {
  if ('across' in probe) return weights(settled, probe).reduce((sum, value, i) => sum + value * settled.point.across[i], 0)
  return flowOf(settled, probe.through)
}

/** Through quantity of an element at the settled state, from a to b (for a source: what it delivers out of a). */
export function flowOf(settled: Settled, id: string): number {
  const { circuit, point, bits } = settled
  const border = circuit.borders.findIndex((entry) => circuit.network.elements[entry.element].id === id)
  if (border >= 0) return point.borderFlow[border]
  const branch = branchOf(settled, id)
  if (!branch) return heldFlow(settled, id)
  const { f } = evaluate(activeLaw(branch, bits), point.across[branch.a], point.across[branch.b])
  const element = circuit.network.elements[branch.element]
  return element.type === 'across' ? element.value / element.resistance - f : f
}

const branchOf = (settled: Settled, id: string): Branch | undefined =>
  settled.circuit.branches.find((branch) => settled.circuit.network.elements[branch.element].id === id)

/** What a source that holds a node delivers: everything else that leaves the node. */
function heldFlow(settled: Settled, id: string): number {
  const { circuit, point, bits } = settled
  const held = circuit.held.find((entry) => circuit.network.elements[entry.element].id === id)
  if (!held) return 0
  let sum = circuit.insulation[held.node] * (point.across[held.node] - circuit.rest[held.node]) - circuit.injection[held.node]
  for (const branch of circuit.branches) {
    if (branch.a !== held.node && branch.b !== held.node) continue
    const { f } = evaluate(activeLaw(branch, bits), point.across[branch.a], point.across[branch.b])
    sum += branch.a === held.node ? f : -f
  }
  circuit.borders.forEach((border, n) => {
    border.nodes.forEach((node, p) => {
      if (node === held.node) sum -= border.injection[p] * point.borderFlow[n]
    })
  })
  return sum
}

function weights(settled: Settled, probe: Probe): Float64Array {
  const { circuit, point, bits } = settled
  const vector = new Float64Array(circuit.names.length)
  if ('across' in probe) {
    for (const [name, weight] of Object.entries(probe.across)) vector[circuit.index.get(name) ?? 0] += weight
    return vector
  }
  const branch = branchOf(settled, probe.through)
  if (branch) {
    const { da, db } = evaluate(activeLaw(branch, bits), point.across[branch.a], point.across[branch.b])
    const sign = circuit.network.elements[branch.element].type === 'across' ? -1 : 1
    vector[branch.a] += sign * da
    vector[branch.b] += sign * db
  }
  return vector
}

/** The probe's adjoint at the settled state; one transposed solve serves every parameter. */
export function adjointOf(settled: Settled, probe: Probe): Adjoint {
  return adjoint(settled.circuit, settled.bits, settled.point, weights(settled, probe))
}

/** Resistance seen between the two ends of an across probe at the settled state (its own Thevenin resistance). */
export function seenResistance(settled: Settled, probe: Extract<Probe, { across: unknown }>, { lambda }: Adjoint): number {
  return weights(settled, probe).reduce((sum, weight, i) => sum + weight * lambda[i], 0)
}

/**
 * Derivative of a probe with each parameter: -(lambda_a - lambda_b) df/dp summed over the elements the parameter touches,
 * the flow's own change taken as a difference at the settled across quantities.
 * @returns one value per change, in the probe's unit per unit of `step`'s parameter
 */
export function gradient(
  settled: Settled,
  probe: Probe,
  changes: Change[],
  dual: Adjoint = adjointOf(settled, probe),
): Float64Array {
  const direct = 'through' in probe ? probe.through : undefined
  return Float64Array.from(changes, ({ step, elements }) => {
    let sum = 0
    for (const { position, element } of elements) sum += slope(settled, dual, position, element, direct)
    return sum / step
  })
}

function slope(
  settled: Settled,
  { lambda, heldSlope, mu }: Adjoint,
  position: number,
  changed: Element,
  direct?: string,
): number {
  const { circuit, point, bits } = settled
  const old = circuit.network.elements[position]
  const a = 'a' in old ? (circuit.index.get(old.a) ?? 0) : 0
  const b = 'b' in old ? (circuit.index.get(old.b) ?? 0) : 0
  const gap = lambda[a] - lambda[b]
  if (old.type === 'across' && changed.type === 'across') {
    const held = circuit.held.find((entry) => entry.element === position)
    if (held) return heldSlope[held.node] * (changed.value - old.value)
    const border = circuit.borders.findIndex((entry) => entry.element === position)
    if (border >= 0)
      return mu[border] * (changed.value - old.value - (changed.resistance - old.resistance) * point.borderFlow[border])
    const across = point.across[a] - point.across[b]
    const delivered = (element: typeof old) => (element.value - across) / element.resistance
    const more = delivered(changed) - delivered(old)
    return gap * more + (old.id === direct ? more : 0)
  }
  if (old.type === 'through' && changed.type === 'through') return gap * (changed.value - old.value)
  if (old.type === 'motor' && changed.type === 'motor') {
    const border = circuit.borders.findIndex((entry) => entry.element === position)
    const shaft = circuit.index.get(old.shaft) ?? 0
    const flow = point.borderFlow[border]
    const constant = changed.constant - old.constant
    return (
      mu[border] * ((changed.resistance - old.resistance) * flow + constant * point.across[shaft]) +
      lambda[shaft] * constant * flow
    )
  }
  const law = lawOf(changed, circuit.signalIndex, bits)
  const before = lawOf(old, circuit.signalIndex, bits)
  if (!law || !before) return 0
  const more = evaluate(law, point.across[a], point.across[b]).f - evaluate(before, point.across[a], point.across[b]).f
  return -gap * more + (old.id === direct ? more : 0)
}

function lawOf(element: Element, signalIndex: Map<string, number>, bits: Uint8Array) {
  if (element.type === 'law') return element.law
  if (element.type === 'gate') return bits[signalIndex.get(element.signal) ?? -1] ? element.on : element.off
  if (element.type === 'inertance') return { law: 'linear', g: 1 / element.resistance } as const
  return undefined
}
