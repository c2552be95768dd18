import type { Circuit } from '../circuit.js'

/**
 * The elimination tree of a circuit: what a node's elimination touches lies on its way to the root, so a change at one node
 * leaves the elimination of every node off that way as it was. Nodes are named by their index in the circuit, steps by their place in
 * the order of elimination.
 * Source: J. W. H. Liu, SIAM Journal on Matrix Analysis and Applications 11 (1990) 134-172 (from memory).
 */
export interface Tree {
  steps: number
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
  const nodeOf = Int32Array.from(pattern.order, (u) => unknownNode[u])
  const stepOf = new Int32Array(unknown.length).fill(-1)
  nodeOf.forEach((node, s) => {
    stepOf[node] = s
  })
  const list = Int32Array.from(pattern.neighbour, (u) => unknownNode[u])
  const parent = new Int32Array(steps).fill(-1)
  for (let s = 0; s < steps; s += 1) {
    for (let p = pattern.start[s]; p < pattern.start[s + 1]; p += 1) {
      const next = stepOf[list[p]]
      if (parent[s] < 0 || next < parent[s]) parent[s] = next
    }
  }
  const owner = Int32Array.from(branches, ({ a, b }) => (a === b ? -1 : firstOf(stepOf[a], stepOf[b])))
  const [childStart, children] = grouped(parent, steps)
  const [ownStart, own] = grouped(owner, steps)
  return { steps, nodeOf, stepOf, parent, childStart, children, listStart: pattern.start, list, owner, ownStart, own }
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
