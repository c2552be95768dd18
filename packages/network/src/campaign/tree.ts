import type { Circuit } from '../circuit.js'
import type { Pattern } from '../elimination.js'

/**
 * The elimination tree of a circuit: what a node's elimination touches lies on its way to the root, so a change at one node
 * leaves the elimination of every node off that way as it was. Nodes are named by their index in the circuit, steps by their place in
 * the order of elimination.
 * Source: J. W. H. Liu, SIAM Journal on Matrix Analysis and Applications 11 (1990) 134-172 (from memory).
 */
export interface Tree {
  steps: number
  /** The first step of the core (see `core.ts`); the number of steps where there is none. */
  coreFirst: number
  /** By step: the node eliminated. By node: its step, -1 when held. */
  nodeOf: Int32Array
  stepOf: Int32Array
  /** By step: the step of the first of its neighbours to go, -1 for a root. */
  parent: Int32Array
  /** By step: children[childStart[s] .. childStart[s + 1]), ascending. */
  childStart: Int32Array
  children: Int32Array
  /** By step: the nodes still to go that its elimination touches. */
  listStart: Int32Array
  list: Int32Array
  /** By branch: the step of the first of its ends to go, -1 when both are held; by step its branches. */
  owner: Int32Array
  ownStart: Int32Array
  own: Int32Array
}

export function eliminationTree({ pattern, nodeOf: unknownNode, unknown, branches }: Circuit): Tree {
  const steps = pattern.size
  const { order, coreFirst } = coreLast(pattern)
  const nodeOf = Int32Array.from(order, (s) => unknownNode[pattern.order[s]])
  const stepOf = new Int32Array(unknown.length).fill(-1)
  nodeOf.forEach((node, s) => {
    stepOf[node] = s
  })
  const listStart = new Int32Array(steps + 1)
  const list = new Int32Array(pattern.start[steps])
  const parent = new Int32Array(steps).fill(-1)
  order.forEach((own, s) => {
    let at = listStart[s]
    for (let p = pattern.start[own]; p < pattern.start[own + 1]; p += 1, at += 1) {
      list[at] = unknownNode[pattern.neighbour[p]]
      parent[s] = firstOf(parent[s], stepOf[list[at]])
    }
    listStart[s + 1] = at
  })
  const owner = Int32Array.from(branches, ({ a, b }) => (a === b ? -1 : firstOf(stepOf[a], stepOf[b])))
  const [childStart, children] = grouped(parent, steps)
  const [ownStart, own] = grouped(owner, steps)
  return { steps, coreFirst, nodeOf, stepOf, parent, childStart, children, listStart, list, owner, ownStart, own }
}

/** A core smaller than this is as soon eliminated. */
const LEAST_CORE = 8
/** A larger core than this costs more to write out than to eliminate, and its inverse too much memory (measured; decision 0008). */
const mostCore = (steps: number): number => 32 + steps / 20

/**
 * The steps in an order as good as the pattern's, with the core at the end: the steps whose elimination touches at least so
 * many others, and all that come after them on the way to the root. So many: the fewest, two or more, that keep the core small.
 */
function coreLast(pattern: Pattern): { order: Int32Array; coreFirst: number } {
  let core: Uint8Array
  let count = 0
  let width = 2
  do {
    core = coreOf(pattern, width)
    count = core.reduce((sum, one) => sum + one, 0)
    width += 1
  } while (count > mostCore(pattern.size))
  if (count < LEAST_CORE) core.fill(0)
  const steps = Array.from(core, (_, s) => s)
  const below = steps.filter((s) => !core[s])
  return { order: Int32Array.from([...below, ...steps.filter((s) => core[s])]), coreFirst: below.length }
}

function coreOf({ size, order, start, neighbour }: Pattern, width: number): Uint8Array<ArrayBuffer> {
  const stepOf = new Int32Array(size)
  order.forEach((u, s) => {
    stepOf[u] = s
  })
  const core = new Uint8Array(size)
  for (let s = 0; s < size; s += 1) {
    if (start[s + 1] - start[s] >= width) core[s] = 1
    if (core[s]) for (let p = start[s]; p < start[s + 1]; p += 1) core[stepOf[neighbour[p]]] = 1
  }
  return core
}

/** The earlier of two steps, of which either may be missing (-1). */
export const firstOf = (p: number, q: number): number => (p < 0 ? q : q < 0 ? p : Math.min(p, q))

/** Indices by the group each belongs to (-1: none), as starts and members in ascending order. */
export function grouped(groupOf: Int32Array, groups: number): [start: Int32Array, members: Int32Array] {
  const start = new Int32Array(groups + 1)
  for (const group of groupOf) if (group >= 0) start[group + 1] += 1
  for (let g = 0; g < groups; g += 1) start[g + 1] += start[g]
  const members = new Int32Array(start[groups])
  const next = Int32Array.from(start)
  groupOf.forEach((group, i) => {
    if (group < 0) return
    members[next[group]] = i
    next[group] += 1
  })
  return [start, members]
}
