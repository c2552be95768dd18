import { analysePattern, type Pattern } from './elimination.js'
import { addElement } from './elements.js'
import { NetworkError, nodeAt } from './errors.js'
import type { Follower } from './gains.js'
import { followIdealSources, type Held } from './ideal-sources.js'
import { bandedBranches, limitedBranches } from './limits.js'
import type { LogicProgram } from './logic/program.js'
import { compileSignals, type Threshold } from './signals.js'
import { type Domain, type Law, type Network, type Node, REFERENCE, type Signal } from './types.js'

/** One branch of the balance equations: a flow from a to b by a law, or by one of two laws. */
export interface Branch {
  element: number
  a: number
  b: number
  law: Law
  /** Index of the signal that chooses `law` (on) or `off`; -1 for a plain branch. */
  signal: number
  off: Law
  /** What its numbers follow elsewhere; empty for most. */
  gains: Follower[]
  slotAB: number
  slotBA: number
}

/** A source or machine whose own flow is an unknown: injections B y, constraint C x + rho y = e (see `border.ts`). */
export interface Border {
  element: number
  nodes: number[]
  injection: number[]
  constraint: number[]
  rho: number
  value: number
}

/** Heat that an element's branch puts into a node. */
export interface Heat {
  element: number
  of: Branch
  node: number
}

/** A network made ready to solve: names turned into indices, node 0 the reference, pattern of elimination worked out. */
export interface Circuit {
  network: Network
  names: string[]
  domains: Domain[]
  index: Map<string, number>
  /** By node: its unknown's number, or -1 when held. */
  unknown: Int32Array
  /** By unknown: its node. */
  nodeOf: Int32Array
  heldValue: Float64Array
  held: Held[]
  pattern: Pattern
  branches: Branch[]
  /** The branches whose laws are all linear, and the rest: only the rest is evaluated anew at every step. */
  straight: Branch[]
  curved: Branch[]
  /** Norton injections by node (through sources, and sources with their own resistance). */
  injection: Float64Array
  insulation: Float64Array
  rest: Float64Array
  borders: Border[]
  heats: Heat[]
  signals: Signal[]
  signalIndex: Map<string, number>
  thresholds: Threshold[]
  logic: LogicProgram
  linear: boolean
  /** The curved branches that move within a band by themselves, and all that a step of Newton's method must not leap over. */
  banded: Branch[]
  limited: Branch[]
  /** Size of an ordinary across quantity by node, and of an ordinary flow: what "small" is measured against. */
  scale: Float64Array
  flowScale: Float64Array
}

const ACROSS_SCALE: Record<Domain, number> = { electrical: 1, gas: 1e5, liquid: 1e5, thermal: 1, rotation: 1 }
const FLOW_SCALE: Record<Domain, number> = { electrical: 1, gas: 1e-3, liquid: 1e-4, thermal: 1, rotation: 1 }

/**
 * Makes a network ready to solve: about 0.3 us an element when a network of the same connections was compiled before.
 * @throws NetworkError for unknown names, sources that contradict each other, or values that no part can have
 */
export function compile(network: Network): Circuit {
  const { nodes } = network
  const names = [REFERENCE, ...nodes.map((node) => node.id)]
  const index = new Map<string, number>()
  for (let i = 0; i < names.length; i += 1) index.set(names[i], i)
  const { heldValue, held, floating } = followIdealSources(network, (name, element) => nodeAt(index, name, element))
  const { unknown, nodeOf } = numberUnknowns(names.length, held)
  const domains: Domain[] = ['electrical', ...nodes.map((node) => node.domain)]
  const circuit: Circuit = {
    network,
    names,
    domains,
    index,
    unknown,
    nodeOf,
    heldValue,
    held,
    pattern: EMPTY,
    branches: [],
    straight: [],
    curved: [],
    injection: new Float64Array(names.length),
    insulation: byNode(nodes, 0, (node) => node.insulation),
    rest: byNode(nodes, 0, (node) => node.rest),
    borders: [],
    heats: [],
    signals: network.signals,
    ...compileSignals(network.signals, index),
    linear: true,
    banded: [],
    limited: [],
    scale: byNode(nodes, 1, (node) => ACROSS_SCALE[node.domain]),
    flowScale: byNode(nodes, 1, (node) => FLOW_SCALE[node.domain]),
  }
  const floats = new Set(floating)
  network.elements.forEach((element, position) => addElement(circuit, element, position, floats))
  addHeats(circuit)
  circuit.linear = circuit.curved.length === 0 && circuit.heats.length === 0
  circuit.banded = bandedBranches(circuit.curved)
  circuit.limited = limitedBranches(circuit.curved)
  placeBranches(circuit)
  return circuit
}

function byNode(nodes: readonly Node[], reference: number, of: (node: Node) => number): Float64Array {
  const all = new Float64Array(nodes.length + 1)
  all[0] = reference
  for (let i = 0; i < nodes.length; i += 1) all[i + 1] = of(nodes[i])
  return all
}

function numberUnknowns(count: number, held: Held[]): { unknown: Int32Array; nodeOf: Int32Array } {
  const unknown = new Int32Array(count)
  unknown[0] = -1
  for (const { node } of held) unknown[node] = -1
  const nodeOf = new Int32Array(count - 1 - held.length)
  let next = 0
  for (let i = 0; i < count; i += 1) {
    if (unknown[i] < 0) continue
    nodeOf[next] = i
    unknown[i] = next
    next += 1
  }
  return { unknown, nodeOf }
}

function addHeats(circuit: Circuit): void {
  const { elements } = circuit.network
  elements.forEach((element, position) => {
    if (element.type !== 'heat') return
    const of = circuit.branches.find((branch) => elements[branch.element].id === element.of)
    const made = of && elements[of.element].type
    if (!of || made === 'across') {
      const message = `heat '${element.id}' comes from '${element.of}', which is no law, contact or winding`
      throw new NetworkError('UNKNOWN_ELEMENT', message, [element.id])
    }
    circuit.heats.push({ element: position, of, node: nodeAt(circuit.index, element.node, element) })
  })
}

/** A pattern with the two slots of every branch, for the connections it was worked out for. */
interface Placed {
  ends: Int32Array
  pattern: Pattern
  slots: Int32Array
}

/** By connections: faults and latents change values, rarely connections, so most networks find their pattern here. */
const placements = new Map<number, Placed[]>()
const PLACEMENTS_KEPT = 400
const EMPTY = analysePattern(0, [])

/** Gives the circuit its pattern of elimination and every branch its slots. */
function placeBranches(circuit: Circuit): void {
  const { unknown, branches, nodeOf } = circuit
  const ends = new Int32Array(2 * branches.length + 1)
  ends[0] = nodeOf.length
  for (let n = 0; n < branches.length; n += 1) {
    ends[2 * n + 1] = unknown[branches[n].a]
    ends[2 * n + 2] = unknown[branches[n].b]
  }
  const { pattern, slots } = placement(ends)
  circuit.pattern = pattern
  for (let n = 0; n < branches.length; n += 1) {
    branches[n].slotAB = slots[2 * n]
    branches[n].slotBA = slots[2 * n + 1]
  }
}

function placement(ends: Int32Array): Placed {
  const key = ends.reduce((hash, end) => Math.imul(hash ^ end, 0x01000193), 0x811c9dc5)
  const same = placements.get(key) ?? []
  const known = same.find((placed) => placed.ends.length === ends.length && placed.ends.every((end, n) => end === ends[n]))
  if (known) return known
  const placed = place(ends)
  if (placements.size >= PLACEMENTS_KEPT) placements.clear()
  placements.set(key, [...same, placed])
  return placed
}

function place(ends: Int32Array): Placed {
  const pairs = Array.from({ length: (ends.length - 1) / 2 }, (_, n): [number, number] => [ends[2 * n + 1], ends[2 * n + 2]])
  const inside = ([i, j]: [number, number]) => i >= 0 && j >= 0 && i !== j
  const pattern = analysePattern(ends[0], pairs.filter(inside))
  const slots = pairs.flatMap(([i, j]) => (inside([i, j]) ? [pattern.slotOf(i, j), pattern.slotOf(j, i)] : [-1, -1]))
  return { ends, pattern, slots: Int32Array.from(slots) }
}
