import type { Tree } from './tree.js'

/**
 * What eliminating some nodes left behind, one front a node: its own row, solved for it, and what it passed on to the nodes
 * still to go. A front lists its node first, then the nodes it touches; its numbers stand in `from[e] .. from[e + 1])`.
 */
export class Fronts {
  count = 0
  from: Int32Array
  node: Int32Array
  /** x of the front's node = row[0] + row[1] x of the second in the list + ... */
  row: Float64Array
  /** Leak to held nodes and right-hand side, by node of the list: as passed on to the nodes still to go. */
  leak: Float64Array
  drive: Float64Array
  /** Off-diagonal conductances, list by list, as passed on. */
  matrixFrom: Int32Array
  matrix: Float64Array

  constructor(entries: number, width: number, matrix: number) {
    this.from = new Int32Array(entries + 1)
    this.matrixFrom = new Int32Array(entries + 1)
    this.node = new Int32Array(width)
    this.row = new Float64Array(width)
    this.leak = new Float64Array(width)
    this.drive = new Float64Array(width)
    this.matrix = new Float64Array(matrix)
  }

  /** Makes room for lists up to a place. */
  reserveList(end: number): void {
    if (end <= this.node.length) return
    this.node = grown(this.node, end)
    this.row = grown(this.row, end)
    this.leak = grown(this.leak, end)
    this.drive = grown(this.drive, end)
  }

  /** Begins front e with its list in place already: its numbers are cleared. */
  open(e: number, width: number): void {
    const at = this.from[e]
    const top = this.matrixFrom[e]
    const end = top + width * width
    this.reserveList(at + width)
    if (end > this.matrix.length) this.matrix = grown(this.matrix, end)
    const { leak, drive, matrix } = this
    for (let i = at + 1; i < at + width; i += 1) {
      leak[i] = 0
      drive[i] = 0
    }
    for (let i = top; i < end; i += 1) matrix[i] = 0
    this.from[e + 1] = at + width
    this.matrixFrom[e + 1] = end
  }

  /** Adds to front e what front c of `child` passes on; `place` says where a node stands in the list of e. */
  gather(e: number, child: Fronts, c: number, place: Int32Array): void {
    const at = this.from[e]
    const childAt = child.from[c]
    const width = child.from[c + 1] - childAt
    const { leak, drive } = this
    const { node } = child
    for (let i = 1; i < width; i += 1) {
      const to = at + place[node[childAt + i]]
      leak[to] += child.leak[childAt + i]
      drive[to] += child.drive[childAt + i]
    }
    if (width > 2) this.gatherMatrix(e, child, c, place)
  }

  private gatherMatrix(e: number, child: Fronts, c: number, place: Int32Array): void {
    const own = this.from[e + 1] - this.from[e]
    const childAt = child.from[c]
    const width = child.from[c + 1] - childAt
    const { matrix } = this
    const { node, matrix: from } = child
    for (let i = 1; i < width; i += 1) {
      const rowAt = this.matrixFrom[e] + place[node[childAt + i]] * own
      const childRow = child.matrixFrom[c] + i * width
      // The diagonal, here and below, is never read.
      for (let j = 1; j < width; j += 1) matrix[rowAt + place[node[childAt + j]]] += from[childRow + j]
    }
  }

  /** Conductance from the node of front e to the i-th of its list. */
  outFlow(e: number, i: number): number {
    return this.matrix[this.matrixFrom[e] + i * (this.from[e + 1] - this.from[e])]
  }

  /** All that holds the node of front e. */
  pivot(e: number): number {
    let pivot = this.leak[this.from[e]]
    for (let i = 1; i < this.from[e + 1] - this.from[e]; i += 1) pivot += this.outFlow(e, i)
    return pivot
  }

  /** Eliminates the node of front e; false where nothing holds it. */
  close(e: number): boolean {
    const { row, leak, drive, matrix } = this
    const at = this.from[e]
    const width = this.from[e + 1] - at
    const top = this.matrixFrom[e]
    const pivot = this.pivot(e)
    const leakShare = leak[at] / pivot
    const driveShare = drive[at] / pivot
    row[at] = driveShare
    for (let i = 1; i < width; i += 1) {
      const out = matrix[top + i * width]
      row[at + i] = matrix[top + i] / pivot
      leak[at + i] += matrix[top + i] * leakShare
      drive[at + i] += out * driveShare
      if (width === 2) break
      const share = out / pivot
      const rowAt = top + i * width
      for (let j = 1; j < width; j += 1) matrix[rowAt + j] += share * matrix[top + j]
    }
    return pivot > 0 && pivot < Number.POSITIVE_INFINITY
  }
}

function grown<A extends Int32Array | Float64Array>(array: A, least: number): A {
  const larger = new (array.constructor as new (length: number) => A)(Math.max(least, 2 * array.length))
  larger.set(array)
  return larger
}

/** Fronts with room for every node of a tree. */
export function roomFor({ steps, listStart }: Tree): Fronts {
  let matrix = 0
  for (let s = 0; s < steps; s += 1) matrix += (listStart[s + 1] - listStart[s] + 1) ** 2
  return new Fronts(steps, listStart[steps] + steps, matrix)
}

/** What the fronts are assembled from. Branches past those of the circuit are added ones. */
export interface Assembly {
  /** By branch: its ends, and its flow from a to b = ga xa - gb xb + f0. */
  a: Int32Array
  b: Int32Array
  ga: Float64Array
  gb: Float64Array
  f0: Float64Array
  /** By node: what leaks and what is driven into it without any branch. */
  leak: Float64Array
  drive: Float64Array
  /** By node: held values, in the array that solutions are written to. */
  across: Float64Array
}
