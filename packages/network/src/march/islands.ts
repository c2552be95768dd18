import { type Circuit, compile } from '../circuit.js'
import { type Element, type Network, REFERENCE, type Signal } from '../types.js'
import { companionOf, type StoreElement } from './companion.js'

/**
 * A part of the network whose nodes stand in one set of equations. What it only listens to (a temperature that a coil follows, the
 * current that heats a mass) is imported: held, for the length of one solve, at what another island has come to.
 */
export interface Island {
  circuit: Circuit
  /** By local node: its node in the whole network. */
  global: Int32Array
  /** Local nodes that are held, and take their value from the whole. */
  imports: number[]
  /** Signals that choose its laws. */
  gates: number[]
  stores: StorePlace[]
  /** By local border: its border in the whole network. */
  borders: number[]
  /** Through sources that change with time, by local ends [rate a second]. */
  ramps: { a: number; b: number; rate: number }[]
  /** It moves between events: it stores, or follows what moves. */
  live: boolean
  /** Islands it listens to, by their place in the order. */
  hears: number[]
  /** Something outside moves it with time: a source that changes, a held node that does. */
  driven: boolean
  /** Flows injected by sources, as compiled. */
  baseInjection: Float64Array
}

/** A store or inductance of an island: its element in the whole network, and the branch that stands for it in a stage. */
export interface StorePlace {
  position: number
  element: StoreElement
  a: number
  b: number
  /** Law of the companion branch; its numbers are set for every stage. */
  companion: ReturnType<typeof companionOf>
}

/** The whole network, with what states impose let go, and its islands in an order in which each comes after what it listens to. */
export interface Archipelago {
  whole: Circuit
  islands: Island[]
  /** Held nodes whose value changes with time [a second], in an order in which each comes after the one it is counted from. */
  moving: { node: number; rate: number }[]
}

/** Takes a network apart for marching. @throws NetworkError as `compile` */
export function explore(network: Network): Archipelago {
  const free: Network = { ...network, elements: network.elements.map(letGo) }
  const whole = compile(free)
  const member = joined(whole)
  const order = sorted(whole, member)
  const moving = movingHeld(whole)
  const islands: Island[] = []
  const drifting = new Set(moving.map(({ node }) => node))
  const home = new Map<number, number>()
  for (const nodes of order) {
    for (const node of nodes) home.set(node, islands.length)
    islands.push(settleOn(whole, nodes, { drifting, home, islands }))
  }
  return { whole, islands, moving }
}

function letGo(element: Element): Element {
  if (element.type !== 'store' || element.holds === undefined) return element
  const { holds: _, ...free } = element
  return free
}

const isStore = (element: Element): element is StoreElement => element.type === 'store' || element.type === 'inertance'

/** By node: the first node of the set whose equations it shares; -1 for held nodes. */
function joined(circuit: Circuit): Int32Array {
  const { unknown, branches, borders, network, index } = circuit
  const root = Int32Array.from(unknown, (u, i) => (u < 0 ? -1 : i))
  const find = (i: number): number => {
    let r = i
    while (root[r] !== r) r = root[r]
    root[i] = r
    return r
  }
  const join = (nodes: number[]) => {
    const free = nodes.filter((node) => unknown[node] >= 0)
    for (const node of free) root[find(node)] = find(free[0])
  }
  for (const { a, b } of branches) join([a, b])
  for (const { nodes } of borders) join(nodes)
  for (const element of network.elements) {
    if (element.type === 'store') join([index.get(element.a) as number, index.get(element.b) as number])
  }
  return root.map((r, i) => (r < 0 ? -1 : find(i)))
}

/** Nodes listened to, by the root of who listens. */
function listening(circuit: Circuit, member: Int32Array): Map<number, Set<number>> {
  const heard = new Map<number, Set<number>>()
  const listen = (who: number, to: number) => {
    if (who < 0 || to === 0) return
    const set = heard.get(who) ?? new Set()
    heard.set(who, set.add(to))
  }
  for (const { a, b, gains } of circuit.branches) {
    const who = member[a] >= 0 ? member[a] : member[b]
    for (const { node, less } of gains) for (const to of [node, less]) listen(who, to)
  }
  for (const { of, node } of circuit.heats) {
    const to = [of.a, of.b, ...of.gains.flatMap((gain) => [gain.node, gain.less])]
    for (const one of to) listen(member[node], one)
  }
  return heard
}

/** The islands as sets of nodes, each after what it listens to; those that listen to each other are one. */
function sorted(circuit: Circuit, member: Int32Array): number[][] {
  const heard = listening(circuit, member)
  const before = new Map<number, Set<number>>()
  for (const [who, nodes] of heard) {
    const others = [...nodes].map((node) => member[node]).filter((other) => other >= 0 && other !== who)
    before.set(who, new Set(others))
  }
  const reach = (from: number): Set<number> => {
    const seen = new Set<number>()
    const left = [from]
    for (let next = left.pop(); next !== undefined; next = left.pop()) {
      for (const other of before.get(next) ?? []) {
        if (seen.has(other)) continue
        seen.add(other)
        left.push(other)
      }
    }
    return seen
  }
  const roots = [...new Set(member)].filter((root) => root >= 0)
  const reached = new Map(roots.map((root) => [root, reach(root)]))
  const groups: number[][] = []
  const taken = new Set<number>()
  // Whoever reaches few comes before whoever reaches those: a set that reaches another reaches all that the other does.
  const ordered = roots.toSorted((p, q) => sizeOf(reached, p) - sizeOf(reached, q) || p - q)
  for (const root of ordered) {
    if (taken.has(root)) continue
    const mutual = ordered.filter((other) => other === root || (reached.get(root)?.has(other) && reached.get(other)?.has(root)))
    for (const one of mutual) taken.add(one)
    const own = new Set(mutual)
    groups.push([...member.keys()].filter((node) => own.has(member[node])))
  }
  return groups
}

const sizeOf = (reached: ReadonlyMap<number, Set<number>>, root: number): number => reached.get(root)?.size ?? 0

function movingHeld(whole: Circuit): Archipelago['moving'] {
  const rates = new Map<number, number>()
  for (const { node, element, from, sign } of whole.held) {
    const source = whole.network.elements[element]
    const own = source.type === 'across' ? (source.rate ?? 0) : 0
    rates.set(node, (rates.get(from) ?? 0) + sign * own)
  }
  return [...rates].filter(([, rate]) => rate !== 0).map(([node, rate]) => ({ node, rate }))
}

/** What is known of the sea while an island is made: held nodes that move, where a free node is at home, the islands before. */
interface Chart {
  drifting: ReadonlySet<number>
  home: ReadonlyMap<number, number>
  islands: readonly Island[]
}

/** Makes the circuit of one island. */
function settleOn(whole: Circuit, nodes: readonly number[], { drifting, home, islands }: Chart): Island {
  const { network, names, index } = whole
  const own = new Set(nodes.map((node) => names[node]))
  const elements: Element[] = []
  const places: { position: number; element: StoreElement; companion: StorePlace['companion'] }[] = []
  const borderPositions: number[] = []
  const touched = new Set<string>()
  const touch = (...list: (string | undefined)[]) => {
    for (const name of list) if (name !== undefined && name !== REFERENCE && !own.has(name)) touched.add(name)
  }
  network.elements.forEach((element, position) => {
    if (!belongs(whole, element, own)) return
    if (isStore(element)) {
      const companion = companionOf(element)
      places.push({ position, element, companion })
      elements.push({ type: 'law', id: element.id, a: element.a, b: element.b, law: companion })
    } else {
      elements.push(element)
      if (element.type === 'heat') shadow(whole, element, own, elements, touch)
    }
    borderPositions.push(position)
    for (const name of endsOf(element)) touch(name)
  })
  const held = [...touched]
  for (const name of held) elements.push({ type: 'across', id: `held:${name}`, a: name, b: REFERENCE, value: 0, resistance: 0 })
  const known = new Map(network.nodes.map((node) => [node.id, node]))
  const local: Network = {
    nodes: [...own, ...held].map((name) => known.get(name) as Network['nodes'][number]),
    elements,
    signals: network.signals.map((signal): Signal => ({ type: 'imposed', id: signal.id, value: false })),
  }
  const circuit = compile(local)
  const global = Int32Array.from(circuit.names, (name) => index.get(name) as number)
  const ramps = rampsOf(circuit, elements)
  const heard = held.map((name) => index.get(name) as number)
  const hears = [...new Set(heard.flatMap((node) => home.get(node) ?? []))]
  const driven = ramps.length > 0 || heard.some((node) => drifting.has(node))
  return {
    circuit,
    global,
    imports: held.map((name) => circuit.index.get(name) as number),
    gates: [...new Set(circuit.branches.map((branch) => branch.signal).filter((signal) => signal >= 0))],
    stores: places.map((place) => ({
      ...place,
      a: circuit.index.get(place.element.a) as number,
      b: circuit.index.get(place.element.b) as number,
    })),
    borders: bordersOf(whole, borderPositions),
    ramps,
    live: places.length > 0 || driven || hears.some((n) => islands[n].live),
    hears,
    driven,
    baseInjection: Float64Array.from(circuit.injection),
  }
}

/** An element belongs where one of its ends is free; an ideal source that holds a node belongs to none. */
function belongs(whole: Circuit, element: Element, own: ReadonlySet<string>): boolean {
  if (element.type === 'heat') return own.has(element.node)
  if (element.type === 'across' && element.resistance === 0) {
    return own.has(element.a) && own.has(element.b) && whole.unknown[whole.index.get(element.a) as number] >= 0
  }
  const ends =
    element.type === 'motor' || element.type === 'pump' ? [element.a, element.b, element.shaft] : [element.a, element.b]
  return ends.some((name) => own.has(name))
}

function endsOf(element: Element): (string | undefined)[] {
  if (element.type === 'heat') return []
  const ends = [element.a, element.b]
  if (element.type === 'motor' || element.type === 'pump') return [...ends, element.shaft]
  if (element.type === 'law' || element.type === 'gate') return [...ends, ...followedBy(element)]
  return ends
}

const followedBy = ({ gains }: Extract<Element, { type: 'law' | 'gate' }>): (string | undefined)[] =>
  (gains ?? []).flatMap(({ node, less }) => [node, less])

/** The element that makes a heat stands, between imported nodes, beside the heat itself: it adds nothing to the balance there. */
function shadow(
  whole: Circuit,
  heat: Extract<Element, { type: 'heat' }>,
  own: ReadonlySet<string>,
  elements: Element[],
  touch: (...names: (string | undefined)[]) => void,
): void {
  const maker = whole.network.elements.find((element) => element.id === heat.of)
  if (!maker || !('a' in maker) || own.has(maker.a) || own.has(maker.b)) return
  if (elements.some((element) => element.id === maker.id)) return
  elements.push(maker)
  for (const name of endsOf(maker)) touch(name)
}

function rampsOf(circuit: Circuit, elements: readonly Element[]): Island['ramps'] {
  const found: Island['ramps'] = []
  for (const element of elements) {
    if (element.type === 'heat' || !('rate' in element) || !element.rate) continue
    const rate = element.type === 'across' ? element.rate / element.resistance : element.rate
    found.push({ a: circuit.index.get(element.a) as number, b: circuit.index.get(element.b) as number, rate })
  }
  return found
}

/** The borders of the whole that stand for these elements, in the order in which the island made its own. */
function bordersOf(whole: Circuit, positions: readonly number[]): number[] {
  const own = new Set(positions)
  return [...whole.borders.keys()].filter((n) => own.has(whole.borders[n].element))
}
