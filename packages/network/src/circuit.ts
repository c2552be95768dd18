import { analysePattern, type Pattern } from './elimination.js'
import { type Domain, type Element, type Law, type Network, REFERENCE, type Signal } from './types.js'

/** One branch of the balance equations: a flow from a to b by a law, or by one of two laws. */
export interface Branch {
  element: number
  a: number
  b: number
  law: Law
  /** Index of the signal that chooses `law` (on) or `off`; -1 for a plain branch. */
  signal: number
  off: Law
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

/** A node held at a known value by a source, and the element that holds it. */
interface Held {
  node: number
  element: number
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
  /** Norton injections by node (through sources, and sources with their own resistance). */
  injection: Float64Array
  insulation: Float64Array
  rest: Float64Array
  borders: Border[]
  heats: { of: Branch[]; node: number }[]
  signals: Signal[]
  signalIndex: Map<string, number>
  linear: boolean
  scale: Float64Array
}

/** A source held by two others, or a name that does not exist: a mistake of the caller, never of the numbers. */
export class NetworkError extends Error {
  constructor(
    readonly code: 'UNKNOWN_NODE' | 'UNKNOWN_SIGNAL' | 'SOURCES_CONFLICT' | 'ELEMENT_VALUE',
    message: string,
    readonly elements: string[],
  ) {
    super(message)
  }
}

/** Size of an ordinary across quantity, by domain: what "small" is measured against. */
const SCALE: Record<Domain, number> = { electrical: 1, gas: 1e5, liquid: 1e5, thermal: 1, rotation: 1 }

/** Patterns by structure: faults and latents change values, rarely connections, so most networks find theirs here. */
const patterns = new Map<string, Pattern>()
const PATTERNS_KEPT = 400

/**
 * Makes a network ready to solve.
 * @throws NetworkError for unknown names, sources that contradict each other, or values that are not finite
 */
export function compile(network: Network): Circuit {
  const names = [REFERENCE, ...network.nodes.map((node) => node.id)]
  const index = new Map(names.map((name, i) => [name, i]))
  const signalIndex = new Map(network.signals.map((signal, i) => [signal.id, i]))
  const count = names.length
  const { heldValue, held, isHeld } = holdNodes(network, index, count)
  const unknown = new Int32Array(count).fill(-1)
  const nodeOf: number[] = []
  for (let i = 0; i < count; i += 1) if (!isHeld[i]) unknown[i] = nodeOf.push(i) - 1

  const circuit: Circuit = {
    network,
    names,
    domains: ['electrical', ...network.nodes.map((node) => node.domain)],
    index,
    unknown,
    nodeOf: Int32Array.from(nodeOf),
    heldValue,
    held,
    pattern: undefined as unknown as Pattern,
    branches: [],
    injection: new Float64Array(count),
    insulation: Float64Array.from([0, ...network.nodes.map((node) => node.insulation)]),
    rest: Float64Array.from([0, ...network.nodes.map((node) => node.rest)]),
    borders: [],
    heats: [],
    signals: network.signals,
    signalIndex,
    linear: true,
    scale: Float64Array.from([1, ...network.nodes.map((node) => SCALE[node.domain])]),
  }
  const heldBy = new Set(held.map((entry) => entry.element))
  network.elements.forEach((element, position) => {
    if (!heldBy.has(position)) addElement(circuit, element, position)
  })
  addHeats(circuit)
  circuit.pattern = patternOf(circuit)
  for (const branch of circuit.branches) {
    const i = unknown[branch.a]
    const j = unknown[branch.b]
    if (i >= 0 && j >= 0 && i !== j) {
      branch.slotAB = circuit.pattern.slotOf(i, j)
      branch.slotBA = circuit.pattern.slotOf(j, i)
    }
  }
  return circuit
}

/** Follows ideal sources out from the reference: each holds the node at its far end. */
function holdNodes(network: Network, index: Map<string, number>, count: number) {
  const heldValue = new Float64Array(count)
  const isHeld = new Uint8Array(count)
  isHeld[0] = 1
  const held: Held[] = []
  const ideal = network.elements
    .map((element, position) => ({ element, position }))
    .filter(({ element }) => element.type === 'across' && element.resistance === 0)
  for (let grew = true; grew; ) {
    grew = false
    for (let n = ideal.length - 1; n >= 0; n -= 1) {
      const { element, position } = ideal[n]
      if (element.type !== 'across') continue
      const a = at(index, element.a, element)
      const b = at(index, element.b, element)
      if (isHeld[a] && isHeld[b]) {
        const gap = heldValue[a] - heldValue[b] - element.value
        const same = Math.abs(gap) <= 1e-9 * (1 + Math.abs(element.value))
        if (!same || a === b) throw conflict(element.id, held, network)
        ideal.splice(n, 1)
      } else if (isHeld[a] || isHeld[b]) {
        const node = isHeld[b] ? a : b
        heldValue[node] = isHeld[b] ? heldValue[b] + element.value : heldValue[a] - element.value
        isHeld[node] = 1
        held.push({ node, element: position })
        ideal.splice(n, 1)
        grew = true
      }
    }
  }
  return { heldValue, held, isHeld }
}

function conflict(id: string, held: Held[], network: Network): NetworkError {
  const others = held.map((entry) => network.elements[entry.element].id)
  return new NetworkError('SOURCES_CONFLICT', `source '${id}' holds two points that other sources already hold apart`, [
    id,
    ...others,
  ])
}

function addElement(circuit: Circuit, element: Element, position: number): void {
  const { index, injection } = circuit
  switch (element.type) {
    case 'law':
      addBranch(circuit, position, element, element.law, -1, element.law)
      break
    case 'gate': {
      const signal = circuit.signalIndex.get(element.signal)
      if (signal === undefined) {
        throw new NetworkError('UNKNOWN_SIGNAL', `gate '${element.id}' follows the unknown signal '${element.signal}'`, [
          element.id,
        ])
      }
      addBranch(circuit, position, element, element.on, signal, element.off)
      break
    }
    case 'inertance':
      addLinear(circuit, position, element, 1 / element.resistance)
      break
    case 'across':
      if (element.resistance > 0) {
        addLinear(circuit, position, element, 1 / element.resistance)
        injection[at(index, element.a, element)] += element.value / element.resistance
        injection[at(index, element.b, element)] -= element.value / element.resistance
      } else {
        const nodes = [at(index, element.a, element), at(index, element.b, element)]
        circuit.borders.push({ element: position, nodes, injection: [1, -1], constraint: [1, -1], rho: 0, value: element.value })
      }
      break
    case 'through':
      injection[at(index, element.a, element)] += element.value
      injection[at(index, element.b, element)] -= element.value
      break
    case 'motor': {
      const nodes = [element.a, element.b, element.shaft].map((name) => at(index, name, element))
      const k = element.constant
      circuit.borders.push({
        element: position,
        nodes,
        injection: [-1, 1, k],
        constraint: [1, -1, -k],
        rho: -element.resistance,
        value: 0,
      })
      break
    }
    case 'store':
    case 'heat':
      break
  }
}

function addLinear(circuit: Circuit, position: number, element: Element & { a: string; b: string }, g: number): void {
  const law: Law = { law: 'linear', g }
  addBranch(circuit, position, element, law, -1, law)
}

function addBranch(
  circuit: Circuit,
  position: number,
  element: { id: string; a: string; b: string },
  law: Law,
  signal: number,
  off: Law,
): void {
  for (const one of [law, off]) {
    if (one.law === 'linear' && !(one.g >= 0 && Number.isFinite(one.g))) {
      throw new NetworkError(
        'ELEMENT_VALUE',
        `element '${element.id}' has the conductance ${one.g}; it must be finite and not negative`,
        [element.id],
      )
    }
  }
  const a = at(circuit.index, element.a, element)
  const b = at(circuit.index, element.b, element)
  if (law.law !== 'linear' || off.law !== 'linear') circuit.linear = false
  circuit.branches.push({ element: position, a, b, law, signal, off, slotAB: -1, slotBA: -1 })
}

function addHeats(circuit: Circuit): void {
  for (const element of circuit.network.elements) {
    if (element.type !== 'heat') continue
    const of = circuit.branches.filter((branch) => circuit.network.elements[branch.element].id === element.of)
    circuit.heats.push({ of, node: at(circuit.index, element.node, element) })
    circuit.linear = false
  }
}

function at(index: Map<string, number>, name: string, element: { id: string }): number {
  const node = index.get(name)
  if (node === undefined)
    throw new NetworkError('UNKNOWN_NODE', `element '${element.id}' ends at the unknown node '${name}'`, [element.id])
  return node
}

function patternOf(circuit: Circuit): Pattern {
  const { unknown, branches, nodeOf } = circuit
  const edges: [number, number][] = []
  let key = `${nodeOf.length}`
  for (const { a, b } of branches) {
    if (unknown[a] < 0 || unknown[b] < 0 || a === b) continue
    edges.push([unknown[a], unknown[b]])
    key += `,${unknown[a]}-${unknown[b]}`
  }
  const known = patterns.get(key)
  if (known) return known
  const pattern = analysePattern(nodeOf.length, edges)
  if (patterns.size >= PATTERNS_KEPT) patterns.clear()
  patterns.set(key, pattern)
  return pattern
}
