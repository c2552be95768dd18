import { type Assembly, type Fronts, roomFor } from './fronts.js'
import type { Path } from './path.js'
import { firstOf, type Tree } from './tree.js'

/**
 * Eliminates the nodes of a path anew and takes what every other node passes on from the fronts of a base. Like `eliminate` it only
 * adds, multiplies and divides positive numbers, so an open or a short costs no digits (Grassmann, Taksar and Heyman 1985); fronts
 * and what they pass on: I. S. Duff, J. K. Reid, ACM Transactions on Mathematical Software 9 (1983) 302-325 (both from memory).
 */
export class Eliminator {
  /** Fronts of the path last eliminated, in its order. */
  readonly fronts: Fronts
  /** By node: its place in the list of the front at hand. */
  private readonly place: Int32Array
  /** Entries of the path that pass on to steps past its end. */
  readonly leaving: Int32Array
  leavingCount = 0
  /** By step: its entry among the fronts of the path. */
  private readonly entry: Int32Array
  /** By step: the first added branch it owns, by added branch the next one; -1 ends. */
  private readonly firstAdded: Int32Array
  private readonly nextAdded: number[] = []
  private added = 0
  /** Added branches join nodes that the tree does not: fronts grow, and pass on to other parents. */
  private bridged = false
  /** By step: the last child that passes on to it, by entry the child before; by node: is it in the list at hand. */
  private readonly lastChild: Int32Array
  private readonly childBefore: Int32Array
  private readonly listed: Uint8Array

  constructor(
    private readonly tree: Tree,
    nodes: number,
  ) {
    this.fronts = roomFor(tree)
    this.place = new Int32Array(nodes)
    this.leaving = new Int32Array(tree.steps)
    this.entry = new Int32Array(tree.steps)
    this.firstAdded = new Int32Array(tree.steps).fill(-1)
    this.lastChild = new Int32Array(tree.steps).fill(-1)
    this.childBefore = new Int32Array(tree.steps)
    this.listed = new Uint8Array(nodes)
  }

  /** Takes in branch n, between two nodes of which at least one is not held. */
  add(n: number, a: number, b: number): void {
    const { stepOf } = this.tree
    if (stepOf[a] >= 0 && stepOf[b] >= 0) this.bridged = true
    const owner = firstOf(stepOf[a], stepOf[b])
    this.nextAdded[n] = this.firstAdded[owner]
    this.firstAdded[owner] = n
    this.added += 1
  }

  /** Takes the branches of these ends out again. */
  remove(a: number, b: number): void {
    const { stepOf } = this.tree
    this.firstAdded[firstOf(stepOf[a], stepOf[b])] = -1
    this.added = 0
    this.bridged = false
  }

  /** Eliminates the path. @returns false where nothing holds a node, not even insulation */
  run(assembly: Assembly, base: Fronts, path: Path, fronts = this.fronts): boolean {
    const { listStart, list, nodeOf, ownStart, own, childStart, children, parent } = this.tree
    const { place, entry, bridged } = this
    let held = true
    this.leavingCount = 0
    for (let e = 0; e < path.length; e += 1) {
      const s = path.steps[e]
      entry[s] = e
      const at = fronts.from[e]
      const first = listStart[s] - 1
      let width = listStart[s + 1] - first
      if (bridged) fronts.reserveList(at + width)
      fronts.node[at] = nodeOf[s]
      for (let i = 1; i < width; i += 1) {
        fronts.node[at + i] = list[first + i]
        place[list[first + i]] = i
      }
      if (bridged) width = this.widen(assembly, fronts, at, s, width)
      fronts.open(e, width)
      fronts.leak[at] = assembly.leak[nodeOf[s]]
      fronts.drive[at] = assembly.drive[nodeOf[s]]
      for (let p = ownStart[s]; p < ownStart[s + 1]; p += 1) this.addBranch(assembly, fronts, e, own[p])
      if (this.added > 0) for (let n = this.firstAdded[s]; n >= 0; n = this.nextAdded[n]) this.addBranch(assembly, fronts, e, n)
      place[nodeOf[s]] = 0
      for (let p = childStart[s]; p < childStart[s + 1]; p += 1) {
        const c = children[p]
        if (!path.has(c)) fronts.gather(e, base, c, place)
        else if (!bridged) fronts.gather(e, fronts, entry[c], place)
      }
      if (bridged) this.gatherPath(fronts, e, s)
      if (!fronts.close(e)) held = false
      if (bridged) this.passUp(fronts, e, path.end)
      else if (parent[s] >= path.end) this.leave(e)
    }
    fronts.count = path.length
    return held
  }

  private addBranch(assembly: Assembly, fronts: Fronts, e: number, n: number): void {
    const { a, b, ga, gb, f0 } = assembly
    if (a[n] === fronts.node[fronts.from[e]]) this.addEnd(assembly, fronts, e, b[n], ga[n], gb[n], f0[n])
    else this.addEnd(assembly, fronts, e, a[n], gb[n], ga[n], -f0[n])
  }

  /** A flow out x - back x' + constant from the front's node to another one. */
  private addEnd(
    assembly: Assembly,
    fronts: Fronts,
    e: number,
    other: number,
    out: number,
    back: number,
    constant: number,
  ): void {
    const { leak, drive, matrix } = fronts
    const at = fronts.from[e]
    if (this.tree.stepOf[other] < 0) {
      leak[at] += out
      drive[at] += back * assembly.across[other] - constant
      return
    }
    const i = this.place[other]
    const top = fronts.matrixFrom[e]
    matrix[top + i] += back
    matrix[top + i * (fronts.from[e + 1] - at)] += out
    drive[at] -= constant
    drive[at + i] += constant
  }

  /** Takes up the far ends of added branches and what path children bring along; returns the new length of the list. */
  private widen(assembly: Assembly, fronts: Fronts, at: number, s: number, width: number): number {
    const { listed, place } = this
    const { stepOf } = this.tree
    for (let i = at; i < at + width; i += 1) listed[fronts.node[i]] = 1
    let wide = width
    const take = (node: number) => {
      if (stepOf[node] < 0 || listed[node]) return
      listed[node] = 1
      fronts.reserveList(at + wide + 1)
      fronts.node[at + wide] = node
      place[node] = wide
      wide += 1
    }
    for (let n = this.firstAdded[s]; n >= 0; n = this.nextAdded[n]) {
      take(assembly.a[n])
      take(assembly.b[n])
    }
    for (let c = this.lastChild[s]; c >= 0; c = this.childBefore[c]) {
      for (let i = fronts.from[c] + 1; i < fronts.from[c + 1]; i += 1) take(fronts.node[i])
    }
    for (let i = at; i < at + wide; i += 1) listed[fronts.node[i]] = 0
    return wide
  }

  private gatherPath(fronts: Fronts, e: number, s: number): void {
    for (let c = this.lastChild[s]; c >= 0; c = this.childBefore[c]) fronts.gather(e, fronts, c, this.place)
    this.lastChild[s] = -1
  }

  private leave(e: number): void {
    this.leaving[this.leavingCount] = e
    this.leavingCount += 1
  }

  /** Hands a front on to the first of its nodes still to go. */
  private passUp(fronts: Fronts, e: number, end: number): void {
    const { stepOf } = this.tree
    let parent = -1
    for (let i = fronts.from[e] + 1; i < fronts.from[e + 1]; i += 1) parent = firstOf(parent, stepOf[fronts.node[i]])
    if (parent < 0) return
    if (parent >= end) {
      this.leave(e)
      return
    }
    this.childBefore[e] = this.lastChild[parent]
    this.lastChild[parent] = e
  }
}
