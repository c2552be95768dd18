import { type Assembly, Fronts } from './fronts.js'
import type { Path } from './path.js'
import { firstOf, type Tree } from './tree.js'

/**
 * Eliminates the nodes of a path anew and takes what every other node passes on from the fronts of a base. Like `eliminate` it only
 * adds, multiplies and divides positive numbers, so an open or a short costs no digits (Grassmann, Taksar and Heyman 1985); fronts
 * and what they pass on: I. S. Duff, J. K. Reid, ACM Transactions on Mathematical Software 9 (1983) 302-325 (both from memory).
 */
export class Eliminator {
  /** Fronts of the path last eliminated, in its order. */
  readonly fronts = new Fronts(16, 64, 256)
  /** By step: the first added branch it owns, and by branch the next one; -1 ends. */
  readonly firstAdded: Int32Array
  readonly nextAdded: number[] = []
  /** Place of a node in the list of the front at hand. */
  private readonly place: Int32Array
  /** By step: its entry among the fronts of the path; the last child that passes on to it, by entry the child before. */
  private readonly entry: Int32Array
  private readonly lastChild: Int32Array
  private readonly childBefore: Int32Array
  /** By node: is it in the list of the front at hand. */
  private readonly listed: Uint8Array

  constructor(
    private readonly tree: Tree,
    nodes: number,
  ) {
    this.firstAdded = new Int32Array(tree.steps).fill(-1)
    this.place = new Int32Array(nodes)
    this.entry = new Int32Array(tree.steps)
    this.lastChild = new Int32Array(tree.steps).fill(-1)
    this.childBefore = new Int32Array(tree.steps)
    this.listed = new Uint8Array(nodes)
  }

  /**
   * Eliminates the path into `fronts`. `bridged`: added branches join nodes that the tree does not; fronts grow by them.
   * @returns false where nothing holds a node, not even insulation
   */
  run(assembly: Assembly, base: Fronts, path: Path, bridged: boolean, fronts = this.fronts): boolean {
    fronts.count = 0
    let held = true
    for (let e = 0; e < path.length; e += 1) {
      const s = path.steps[e]
      this.entry[s] = e
      this.open(assembly, fronts, e, s, bridged)
      this.assemble(assembly, fronts, e, s)
      this.gather(base, path, fronts, e, s, bridged)
      if (!close(fronts, e)) held = false
      if (bridged) this.passUp(fronts, e)
    }
    return held
  }

  /** Lists the nodes of a front and clears its numbers. */
  private open(assembly: Assembly, fronts: Fronts, e: number, s: number, bridged: boolean): void {
    const { place } = this
    const { listStart, list, nodeOf } = this.tree
    let width = listStart[s + 1] - listStart[s] + 1
    fronts.reserve(width)
    const at = fronts.from[e]
    const { node } = fronts
    node[at] = nodeOf[s]
    place[nodeOf[s]] = 0
    for (let i = 1, p = listStart[s]; i < width; i += 1, p += 1) {
      node[at + i] = list[p]
      place[list[p]] = i
    }
    if (bridged) width = this.widen(assembly, fronts, at, s, width)
    const matrixAt = fronts.matrixFrom[e]
    const { matrix, leak, drive } = fronts
    for (let i = matrixAt; i < matrixAt + width * width; i += 1) matrix[i] = 0
    for (let i = at; i < at + width; i += 1) {
      leak[i] = 0
      drive[i] = 0
    }
    fronts.from[e + 1] = at + width
    fronts.matrixFrom[e + 1] = matrixAt + width * width
    fronts.count = e + 1
  }

  /** Takes up the far ends of added branches and what path children bring along; returns the new length of the list. */
  private widen(assembly: Assembly, fronts: Fronts, at: number, s: number, width: number): number {
    const { listed, place } = this
    const { stepOf } = this.tree
    for (let i = at; i < at + width; i += 1) listed[fronts.node[i]] = 1
    let wide = width
    const take = (node: number) => {
      if (listed[node]) return
      listed[node] = 1
      fronts.reserve(wide + 1)
      fronts.node[at + wide] = node
      place[node] = wide
      wide += 1
    }
    for (let n = this.firstAdded[s]; n >= 0; n = this.nextAdded[n]) {
      if (stepOf[assembly.a[n]] >= 0) take(assembly.a[n])
      if (stepOf[assembly.b[n]] >= 0) take(assembly.b[n])
    }
    for (let c = this.lastChild[s]; c >= 0; c = this.childBefore[c]) {
      for (let i = fronts.from[c] + 1; i < fronts.from[c + 1]; i += 1) take(fronts.node[i])
    }
    for (let i = at; i < at + wide; i += 1) listed[fronts.node[i]] = 0
    return wide
  }

  /** Adds the branches a step owns, with its node's own leak and drive. */
  private assemble(assembly: Assembly, fronts: Fronts, e: number, s: number): void {
    const { ownStart, own, nodeOf } = this.tree
    const at = fronts.from[e]
    fronts.leak[at] = assembly.leak[nodeOf[s]]
    fronts.drive[at] = assembly.drive[nodeOf[s]]
    for (let p = ownStart[s]; p < ownStart[s + 1]; p += 1) this.addBranch(assembly, fronts, e, own[p])
    for (let n = this.firstAdded[s]; n >= 0; n = this.nextAdded[n]) this.addBranch(assembly, fronts, e, n)
  }

  private addBranch(assembly: Assembly, fronts: Fronts, e: number, n: number): void {
    const { stepOf } = this.tree
    const { leak, drive, matrix } = fronts
    const at = fronts.from[e]
    const fromA = assembly.a[n] === fronts.node[at]
    const other = fromA ? assembly.b[n] : assembly.a[n]
    const out = fromA ? assembly.ga[n] : assembly.gb[n]
    const back = fromA ? assembly.gb[n] : assembly.ga[n]
    const constant = fromA ? assembly.f0[n] : -assembly.f0[n]
    if (stepOf[other] < 0) {
      leak[at] += out
      drive[at] += back * assembly.across[other] - constant
      return
    }
    const i = this.place[other]
    const width = fronts.from[e + 1] - at
    const matrixAt = fronts.matrixFrom[e]
    matrix[matrixAt + i] += back
    matrix[matrixAt + i * width] += out
    drive[at] -= constant
    drive[at + i] += constant
  }

  /** Adds what the children of a step pass on: those of the path as just eliminated, the others as in the base. */
  private gather(base: Fronts, path: Path, fronts: Fronts, e: number, s: number, bridged: boolean): void {
    const { childStart, children } = this.tree
    for (let p = childStart[s]; p < childStart[s + 1]; p += 1) {
      const c = children[p]
      if (!path.has(c)) this.addChild(base, c, fronts, e)
      else if (!bridged) this.addChild(fronts, this.entry[c], fronts, e)
    }
    if (!bridged) return
    for (let c = this.lastChild[s]; c >= 0; c = this.childBefore[c]) this.addChild(fronts, c, fronts, e)
    this.lastChild[s] = -1
  }

  private addChild(from: Fronts, c: number, fronts: Fronts, e: number): void {
    const { place } = this
    const childAt = from.from[c]
    const childWidth = from.from[c + 1] - childAt
    const at = fronts.from[e]
    const width = fronts.from[e + 1] - at
    const { leak, drive, matrix } = fronts
    for (let i = 1; i < childWidth; i += 1) {
      const row = place[from.node[childAt + i]]
      leak[at + row] += from.leak[childAt + i]
      drive[at + row] += from.drive[childAt + i]
      if (childWidth === 2) return
      const rowAt = fronts.matrixFrom[e] + row * width
      const childRow = from.matrixFrom[c] + i * childWidth
      for (let j = 1; j < childWidth; j += 1) {
        if (j !== i) matrix[rowAt + place[from.node[childAt + j]]] += from.matrix[childRow + j]
      }
    }
  }

  /** Hands a front on to the first of its nodes still to go. */
  private passUp(fronts: Fronts, e: number): void {
    const { stepOf } = this.tree
    let parent = -1
    for (let i = fronts.from[e] + 1; i < fronts.from[e + 1]; i += 1) parent = firstOf(parent, stepOf[fronts.node[i]])
    if (parent < 0) return
    this.childBefore[e] = this.lastChild[parent]
    this.lastChild[parent] = e
  }
}

/** Eliminates the node of an assembled front; false where nothing holds it. */
function close({ from, matrixFrom, row, leak, drive, matrix }: Fronts, e: number): boolean {
  const at = from[e]
  const width = from[e + 1] - at
  const top = matrixFrom[e]
  let pivot = leak[at]
  for (let i = 1; i < width; i += 1) pivot += matrix[top + i * width]
  const leakShare = leak[at] / pivot
  const driveShare = drive[at] / pivot
  row[at] = driveShare
  for (let i = 1; i < width; i += 1) {
    const out = matrix[top + i * width]
    row[at + i] = matrix[top + i] / pivot
    leak[at + i] += matrix[top + i] * leakShare
    drive[at + i] += out * driveShare
    const share = out / pivot
    for (let j = 1; j < width; j += 1) matrix[top + i * width + j] += share * matrix[top + j]
  }
  return pivot > 0 && pivot < Number.POSITIVE_INFINITY
}
