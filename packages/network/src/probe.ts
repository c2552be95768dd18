import { type Adjoint, adjoint, type Weights } from './adjoint.js'
import { branchFlow } from './balance.js'
import type { Branch } from './circuit.js'
import { NetworkError, nodeAt } from './errors.js'
import type { OperatingPoint } from './newton.js'
import type { Settled } from './settle.js'
import type { Element } from './types.js'

/** A quantity read off a solved network: weights by node name (volts: +1 red, -1 black), or the flow through one element. */
export type Probe = { across: Record<string, number> } | { through: string }

/** A network whose numbers are known: at rest, or at one instant of a march. */
export interface Seen {
  circuit: Settled['circuit']
  point: Pick<OperatingPoint, 'across' | 'borderFlow'>
  bits: Uint8Array
  /** Within a march: what stores take and inductances carry, by element position. */
  storeFlow?: Float64Array
}

/**
 * A probe made ready at a settled state: its value, what it sees of the solution to first order, and which changes of the
 * elements it sees directly, with the solution kept still.
 */
interface View extends Weights {
  value: number
  /** Position of the element whose own flow is read, and how its flow from a to b counts. */
  element: number
  sign: number
  /** By node: 1 where flows that leave it are counted, because an ideal source feeds it. */
  fed?: Uint8Array
}

/** Value of a probe at the settled state [unit of the across or through quantity]. @throws NetworkError for an unknown name */
export const probeValue = (seen: Seen, probe: Probe): number => view(seen, probe).value

/**
 * Through quantity of an element at the settled state, from a to b; for a source what it delivers out of a, for a heat what
 * it brings. Of ideal sources in parallel the first carries all. @throws NetworkError UNKNOWN_ELEMENT
 */
export const flowOf = (seen: Seen, id: string): number => view(seen, { through: id }).value

/** The probe's adjoint at the settled state; one transposed solve serves every parameter. */
export function adjointOf(settled: Settled, probe: Probe): Adjoint {
  return adjoint(settled.circuit, settled.bits, settled.point, view(settled, probe))
}

/** Resistance seen between the two ends of an across probe at the settled state (its own Thevenin resistance). */
export function seenResistance(settled: Settled, probe: Extract<Probe, { across: unknown }>, { lambda }: Adjoint): number {
  return view(settled, probe).node.reduce((sum, weight, i) => sum + weight * lambda[i], 0)
}

/** How a further flow from a to b in the element at `position` is seen by the probe itself, with the solution kept still. */
export function directShare(settled: Settled, probe: Probe): (position: number, a: number, b: number) => number {
  const { element, sign, fed } = view(settled, probe)
  return (position, a, b) => (position === element ? sign : 0) + (fed ? sign * (fed[a] - fed[b]) : 0)
}

function view(settled: Seen, probe: Probe): View {
  const { circuit, point } = settled
  const empty: View = {
    value: 0,
    node: new Float64Array(circuit.names.length),
    border: new Float64Array(circuit.borders.length),
    element: -1,
    sign: 0,
  }
  if ('through' in probe) return viewFlow(settled, probe.through, empty)
  for (const [name, weight] of Object.entries(probe.across)) {
    const node = nodeAt(circuit.index, name, { id: 'probe' })
    empty.node[node] += weight
    empty.value += weight * point.across[node]
  }
  return empty
}

function viewFlow(settled: Seen, id: string, seen: View): View {
  const { circuit, point } = settled
  const position = circuit.network.elements.findIndex((element) => element.id === id)
  if (position < 0) throw new NetworkError('UNKNOWN_ELEMENT', `a probe reads the unknown element '${id}'`, [id])
  const element = circuit.network.elements[position]
  const own = { ...seen, element: position }
  if (settled.storeFlow && (element.type === 'store' || element.type === 'inertance')) {
    return { ...own, value: settled.storeFlow[position] }
  }
  if (element.type === 'through') return { ...own, value: element.value, sign: -1 }
  if (element.type === 'store' && element.holds === undefined) return own
  if (element.type === 'heat') return viewHeat(settled, position, own)
  const border = circuit.borders.findIndex((entry) => entry.element === position)
  if (border >= 0) {
    seen.border[border] = 1
    const delivered = { ...seen, value: point.borderFlow[border] }
    return element.type === 'store' ? negative(delivered) : delivered
  }
  if (element.type === 'store') return negative(viewHeld(settled, position, own))
  const branch = circuit.branches.find((entry) => entry.element === position)
  return branch ? viewBranch(settled, branch, element, own) : viewHeld(settled, position, seen)
}

function viewBranch(settled: Seen, branch: Branch, element: Element, own: View): View {
  const sign = element.type === 'across' ? -1 : 1
  const { f, da, db } = flowAt(settled, branch)
  own.node[branch.a] += sign * da
  own.node[branch.b] += sign * db
  const driven = element.type === 'across' ? element.value / element.resistance : 0
  return { ...own, value: driven + sign * f, sign }
}

function viewHeat(settled: Seen, position: number, own: View): View {
  const heat = settled.circuit.heats.find((entry) => entry.element === position)
  if (!heat) return own
  const { f, da, db } = flowAt(settled, heat.of)
  const v = acrossOf(settled, heat.of)
  own.node[heat.of.a] += f + v * da
  own.node[heat.of.b] += v * db - f
  return { ...own, value: f * v, sign: 1 }
}

/** What an ideal source delivers: all that leaves the node it holds and the nodes held from that one. */
function viewHeld(settled: Seen, position: number, seen: View): View {
  const { circuit, point } = settled
  const own = circuit.held.find((entry) => entry.element === position)
  if (!own) return seen
  const { sign } = own
  const fed = new Uint8Array(circuit.names.length)
  fed[own.node] = 1
  for (const { node, from } of circuit.held) if (fed[from]) fed[node] = 1
  let value = 0
  circuit.names.forEach((_, i) => {
    if (!fed[i]) return
    value += circuit.insulation[i] * (point.across[i] - circuit.rest[i]) - circuit.injection[i]
    seen.node[i] += sign * circuit.insulation[i]
  })
  for (const branch of circuit.branches) {
    const counted = fed[branch.a] - fed[branch.b]
    if (counted === 0) continue
    const { f, da, db } = flowAt(settled, branch)
    value += counted * f
    seen.node[branch.a] += sign * counted * da
    seen.node[branch.b] += sign * counted * db
  }
  for (const { of, node } of circuit.heats) {
    if (!fed[node]) continue
    const { f, da, db } = flowAt(settled, of)
    const v = acrossOf(settled, of)
    value -= f * v
    seen.node[of.a] -= sign * (f + v * da)
    seen.node[of.b] -= sign * (v * db - f)
  }
  circuit.borders.forEach(({ nodes, injection }, n) => {
    nodes.forEach((node, p) => {
      if (!fed[node]) return
      value -= injection[p] * point.borderFlow[n]
      seen.border[n] -= sign * injection[p]
    })
  })
  value += storedFrom(settled, fed)
  return { ...seen, value: sign * value, sign, fed }
}

/** What stores take from the nodes of a held group, within a march. */
function storedFrom({ circuit, storeFlow }: Seen, fed: Uint8Array): number {
  if (!storeFlow) return 0
  return circuit.network.elements.reduce((sum, element, position) => {
    if (element.type !== 'store') return sum
    const [a, b] = [element.a, element.b].map((name) => fed[circuit.index.get(name) as number])
    return sum + (a - b) * storeFlow[position]
  }, 0)
}

/** What a held store takes is the opposite of what it delivers. */
function negative(seen: View): View {
  const flip = (all: Float64Array) => all.map((value) => -value)
  return { ...seen, value: -seen.value, sign: -seen.sign, node: flip(seen.node), border: flip(seen.border) }
}

/** Copied, because the next law evaluated reuses the object. */
function flowAt({ point, bits }: Seen, branch: Branch): { f: number; da: number; db: number } {
  return { ...branchFlow(branch, bits, point.across) }
}

const acrossOf = ({ point }: Seen, { a, b }: Branch): number => point.across[a] - point.across[b]
