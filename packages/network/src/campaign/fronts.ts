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

  /** Makes room for one front more, of a list `width` long. */
  reserve(width: number): void {
    const { count } = this
    if (count + 2 > this.from.length) {
      this.from = grown(this.from, count + 2)
      this.matrixFrom = grown(this.matrixFrom, count + 2)
    }
    const wide = this.from[count] + width
    if (wide > this.node.length) {
      this.node = grown(this.node, wide)
      this.row = grown(this.row, wide)
      this.leak = grown(this.leak, wide)
      this.drive = grown(this.drive, wide)
    }
    const square = this.matrixFrom[count] + width * width
    if (square > this.matrix.length) this.matrix = grown(this.matrix, square)
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
