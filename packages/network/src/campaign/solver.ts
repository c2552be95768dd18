import { activeLaw, branchFlow } from '../balance.js'
import { invert } from '../border.js'
import type { Border, Branch, Circuit } from '../circuit.js'
import { evaluate } from '../laws.js'
import { Core, type CoreBase } from './core.js'
import { type Edits, NO_EDITS } from './edits.js'
import { Eliminator } from './eliminate.js'
import { type Assembly, type Fronts, roomFor } from './fronts.js'
import { Path } from './path.js'
import { solvePath, substitutePath, substituteRest, substituteWatched } from './substitute.js'
import { eliminationTree, firstOf, grouped, type Tree } from './tree.js'

/** The sound circuit eliminated for one set of signal states, linearised at its solution there. */
interface Base {
  bits: Uint8Array
  assembly: Assembly
  fronts: Fronts
  solution: Float64Array
  core?: CoreBase
}

/** Iterations of Newton's method granted without any damping, and the relative change at which it stops, as in `newton`. */
const MOST_ITERATIONS = 12
const STEP_TOLERANCE = 1e-11
/** Room for added branches. */
export const MOST_ADDED = 16

/**
 * Solves a circuit under the edits of one fault after another for any set of signal states: from the base whose states are
 * nearest, the ways of all that differs to the root are eliminated anew. Curved branches always count as different, and are
 * followed by Newton's method on these ways alone.
 */
export class PathSolver {
  /** Across quantities by node; the watched ones are right after `solve`, all of them after `finish`. */
  readonly across: Float64Array
  private readonly tree: Tree
  private readonly eliminator: Eliminator
  private readonly path: Path
  /** The ways of all curved branches, of what they follow, of what they heat, and of sources and machines with a flow of their own. */
  private readonly live: Path
  private readonly bases: Base[] = []
  /** Ends of the branches, added ones behind those of the circuit. */
  private readonly ends: { a: Int32Array; b: Int32Array }
  private readonly drive: Float64Array
  private readonly branches: Branch[]
  private readonly curvedSound: readonly number[]
  private readonly heats: { of: number; node: number }[]
  /** Branches by the signal they follow, and by the held node they end at. */
  private readonly gateStart: Int32Array
  private readonly gates: Int32Array
  private readonly atHeld: ReadonlyMap<number, number[]>
  private readonly before: Float64Array
  /** By curved branch: the across quantity between its ends where it was last linearised. */
  private readonly spans: Float64Array
  private readonly borders: Border[]
  /** By border: across quantities that a unit of its flow makes. */
  private readonly columns: Float64Array[]
  private readonly core: Core | undefined
  /** The core is updated, not eliminated, for the solution at hand. */
  private updating = false

  private edits: Edits = NO_EDITS
  private curved: readonly number[]
  private base: Base | undefined
  /** Signals that stand otherwise than in the base. */
  private apart = 0
  /** Numbers of the base that the fault at hand has written over. */
  private readonly saved: { count: number; at: Int32Array; value: Float64Array }

  constructor(private readonly circuit: Circuit) {
    const { names, branches, heats } = circuit
    this.tree = eliminationTree(circuit)
    this.eliminator = new Eliminator(this.tree, names.length)
    this.path = new Path(this.tree)
    this.live = new Path(this.tree)
    this.across = Float64Array.from(circuit.heldValue)
    this.drive = circuit.injection.map((value, i) => value + circuit.insulation[i] * circuit.rest[i])
    this.before = new Float64Array(this.tree.steps)
    this.branches = [...branches]
    this.spans = new Float64Array(branches.length + MOST_ADDED)
    const most = 2 * branches.length + MOST_ADDED
    this.saved = { count: 0, at: new Int32Array(most), value: new Float64Array(3 * most) }
    this.ends = { a: this.endsOf(({ a }) => a), b: this.endsOf(({ b }) => b) }
    const numberOf = new Map(branches.map((branch, n) => [branch, n]))
    this.curvedSound = circuit.curved.map((branch) => numberOf.get(branch) as number)
    this.curved = this.curvedSound
    this.heats = heats.map(({ of, node }) => ({ of: numberOf.get(of) as number, node }))
    ;[this.gateStart, this.gates] = grouped(
      Int32Array.from(branches, ({ signal }) => signal),
      circuit.signals.length,
    )
    this.atHeld = this.branchesAtHeld()
    const { coreFirst, steps } = this.tree
    if (coreFirst < steps && circuit.linear && circuit.borders.length === 0) this.core = new Core(this.tree)
    for (const n of this.curvedSound) this.watch(this.live, branches[n])
    this.borders = [...circuit.borders]
    this.columns = circuit.borders.map(() => new Float64Array(names.length))
    for (const { nodes } of circuit.borders) for (const node of nodes) this.live.add(this.tree.stepOf[node])
    for (const { of, node } of heats) {
      this.watch(this.live, of)
      this.live.add(this.tree.stepOf[node])
    }
  }

  private endsOf(end: (branch: Branch) => number): Int32Array {
    const all = new Int32Array(this.circuit.branches.length + MOST_ADDED)
    this.circuit.branches.forEach((branch, n) => {
      all[n] = end(branch)
    })
    return all
  }

  private branchesAtHeld(): ReadonlyMap<number, number[]> {
    const at = new Map<number, number[]>()
    const { stepOf, owner } = this.tree
    this.circuit.branches.forEach(({ a, b }, n) => {
      if (owner[n] < 0) return
      const node = stepOf[a] < 0 ? a : stepOf[b] < 0 ? b : -1
      if (node < 0) return
      const known = at.get(node)
      if (known) known.push(n)
      else at.set(node, [n])
    })
    return at
  }

  /** Adds the ways of a branch's ends, and of what its numbers follow. */
  private watch(path: Path, { a, b, gains }: Branch): void {
    const { stepOf } = this.tree
    path.add(firstOf(stepOf[a], stepOf[b]))
    for (const { node, less } of gains) {
      path.add(stepOf[node])
      path.add(stepOf[less])
    }
  }

  /** The ways of some nodes: what `solve` is to make known. */
  watched(nodes: Iterable<number>): Path {
    const path = new Path(this.tree)
    for (const node of nodes) path.add(this.tree.stepOf[node])
    return path
  }

  /** Keeps the sound circuit's elimination for these states and its solution there. @returns false where it can not be eliminated */
  addBase(bits: Uint8Array, solution: Float64Array): boolean {
    const { circuit, ends, drive, tree } = this
    const room = circuit.branches.length + MOST_ADDED
    const assembly: Assembly = {
      ...ends,
      ga: new Float64Array(room),
      gb: new Float64Array(room),
      f0: new Float64Array(room),
      leak: circuit.insulation,
      drive,
      across: this.across,
    }
    const base: Base = { bits: Uint8Array.from(bits), assembly, fronts: roomFor(tree), solution }
    circuit.branches.forEach((_, n) => this.linearise(base, n, bits, solution))
    this.heat(bits, solution)
    this.path.end = tree.steps
    this.path.fill()
    const held = this.eliminator.run(assembly, base.fronts, this.path, base.fronts)
    if (!held) return false
    base.core = this.core?.base(base.fronts, largestOfDomain(circuit, solution))
    this.bases.push(base)
    return true
  }

  /** Takes a fault in, in place of the one before. */
  begin(edits: Edits): void {
    this.clear()
    const { ends, tree, eliminator, circuit } = this
    this.edits = edits
    let curved = false
    for (const { at, branch } of edits.replaced) {
      this.branches[at] = branch
      if (isCurved(branch) || isCurved(circuit.branches[at])) curved = true
    }
    for (let i = 0; i < edits.added.length; i += 1) {
      const n = circuit.branches.length + i
      const branch = edits.added[i]
      this.branches[n] = branch
      ends.a[n] = branch.a
      ends.b[n] = branch.b
      if (firstOf(tree.stepOf[branch.a], tree.stepOf[branch.b]) >= 0) eliminator.add(n, branch.a, branch.b)
    }
    for (const { at, border } of edits.borders) this.borders[at] = border
    for (const { node, value } of edits.drives) this.drive[node] = value
    for (const { node, value } of edits.holds) this.across[node] = value
    if (curved || edits.added.some(isCurved)) this.curved = this.curvedNow()
  }

  private curvedNow(): number[] {
    const replaced = new Set(this.edits.replaced.map(({ at }) => at))
    const own = [...this.edits.replaced.map(({ at }) => at), ...this.edits.added.map((_, i) => this.circuit.branches.length + i)]
    return [...this.curvedSound.filter((n) => !replaced.has(n)), ...own.filter((n) => isCurved(this.branches[n]))]
  }

  private clear(): void {
    const { edits, circuit, eliminator, tree } = this
    for (const { at } of edits.replaced) this.branches[at] = circuit.branches[at]
    for (const { a, b } of edits.added) {
      if (firstOf(tree.stepOf[a], tree.stepOf[b]) >= 0) eliminator.remove(a, b)
    }
    for (const { at } of edits.borders) this.borders[at] = circuit.borders[at]
    for (const { node } of edits.drives) this.drive[node] = this.soundDrive(node)
    for (const { node } of edits.holds) this.across[node] = circuit.heldValue[node]
    this.curved = this.curvedSound
  }

  private soundDrive(node: number): number {
    const { injection, insulation, rest } = this.circuit
    return injection[node] + insulation[node] * rest[node]
  }

  /** Solves for these signal states and makes the watched nodes known. @returns false where it finds no solution this way */
  solve(bits: Uint8Array, watched: Path): boolean {
    const base = this.nearest(bits)
    if (!base) return false
    this.base = base
    const solved = this.solveByCore(base, bits) || this.solveByPath(base, bits)
    if (solved) substituteWatched(base.fronts, this.path, watched, this.across)
    return solved
  }

  /** Eliminates the ways up to the core only, and updates that. */
  private solveByCore(base: Base, bits: Uint8Array): boolean {
    const { core, path, tree, eliminator, across } = this
    if (!core || !base.core || this.curved.length > 0 || !this.sparesCore()) return false
    path.end = tree.coreFirst
    path.clear()
    core.clear()
    this.updating = true
    this.differ(base, bits)
    this.updating = false
    const { fronts } = eliminator
    eliminator.run(base.assembly, base.fronts, path)
    for (let i = 0; i < eliminator.leavingCount; i += 1) core.pass(fronts, eliminator.leaving[i], 1)
    for (let q = 0; q < path.length; q += 1) {
      if (tree.parent[path.steps[q]] >= path.end) core.pass(base.fronts, path.steps[q], -1)
    }
    this.restore(base)
    if (!core.solve(base.core, across)) return false
    substitutePath(fronts, across)
    return true
  }

  /** Does the fault leave alone what is driven into the core and what is held beside it? */
  private sparesCore(): boolean {
    const { edits, tree } = this
    for (const { node } of edits.drives) if (tree.stepOf[node] >= tree.coreFirst) return false
    for (const { node } of edits.holds) {
      for (const n of this.atHeld.get(node) ?? []) if (tree.owner[n] >= tree.coreFirst) return false
    }
    return true
  }

  private solveByPath(base: Base, bits: Uint8Array): boolean {
    const { path, live } = this
    path.end = this.tree.steps
    if (live.length > 0) path.copy(live)
    else path.clear()
    this.differ(base, bits)
    const solved = this.curved.length + this.heats.length > 0 ? this.iterate(base, bits) : this.step(base)
    this.restore(base)
    return solved
  }

  /** Makes every node known, after `solve`. */
  finish(): void {
    if (this.base) substituteRest(this.base.fronts, this.path, this.across)
  }

  private nearest(bits: Uint8Array): Base | undefined {
    let best: Base | undefined
    let least = Number.POSITIVE_INFINITY
    for (const base of this.bases) {
      let apart = 0
      for (let i = 0; i < bits.length; i += 1) if (bits[i] !== base.bits[i]) apart += 1
      if (apart >= least) continue
      best = base
      least = apart
      if (apart === 0) break
    }
    this.apart = least
    return best
  }

  /** Puts in what differs from the base, with its ways. */
  private differ(base: Base, bits: Uint8Array): void {
    const { tree, path, edits, gateStart, gates, circuit } = this
    for (let i = 0; this.apart > 0 && i < bits.length; i += 1) {
      if (bits[i] === base.bits[i]) continue
      for (let p = gateStart[i]; p < gateStart[i + 1]; p += 1) this.put(base, gates[p], bits)
    }
    for (const { at } of edits.replaced) this.put(base, at, bits)
    for (let i = 0; i < edits.added.length; i += 1) {
      this.put(base, circuit.branches.length + i, bits)
      path.add(tree.stepOf[edits.added[i].a])
      path.add(tree.stepOf[edits.added[i].b])
    }
    for (const { node } of edits.drives) path.add(tree.stepOf[node])
    for (const { node } of edits.holds) for (const n of this.atHeld.get(node) ?? []) path.add(tree.owner[n])
  }

  private put(base: Base, n: number, bits: Uint8Array): void {
    const { ga, gb, f0 } = base.assembly
    const { saved } = this
    saved.at[saved.count] = n
    saved.value[3 * saved.count] = ga[n]
    saved.value[3 * saved.count + 1] = gb[n]
    saved.value[3 * saved.count + 2] = f0[n]
    saved.count += 1
    const branch = this.branches[n]
    const sound = n < this.circuit.branches.length
    if (sound) this.path.add(this.tree.owner[n])
    if (isCurved(branch)) this.watch(this.path, branch)
    else this.linearise(base, n, bits, this.across)
    if (this.updating) this.putInCore(base, n, sound)
  }

  private putInCore({ assembly }: Base, n: number, sound: boolean): void {
    const { core, saved, ends, tree } = this
    const owner = sound ? tree.owner[n] : firstOf(tree.stepOf[ends.a[n]], tree.stepOf[ends.b[n]])
    if (!core || owner < tree.coreFirst) return
    const at = 3 * (saved.count - 1)
    if (sound) core.branch(assembly, n, saved.value[at], saved.value[at + 1], saved.value[at + 2], -1)
    core.branch(assembly, n, assembly.ga[n], assembly.gb[n], assembly.f0[n], 1)
  }

  private restore(base: Base): void {
    const { ga, gb, f0 } = base.assembly
    const { at, value } = this.saved
    for (let i = this.saved.count - 1; i >= 0; i -= 1) {
      const n = at[i]
      ga[n] = value[3 * i]
      gb[n] = value[3 * i + 1]
      f0[n] = value[3 * i + 2]
    }
    this.saved.count = 0
  }

  /** Flow of a branch about x: ga xa - gb xb + f0. */
  private linearise({ assembly: { ga, gb, f0 } }: Base, n: number, bits: Uint8Array, x: Float64Array): void {
    const branch = this.branches[n]
    const law = activeLaw(branch, bits)
    if (law.law === 'linear' && branch.gains.length === 0) {
      ga[n] = law.g
      gb[n] = law.g
      f0[n] = 0
      return
    }
    const { f, da, db } = branchFlow(branch, bits, x)
    ga[n] = da
    gb[n] = -db
    f0[n] = f - da * x[branch.a] - db * x[branch.b]
  }

  /**
   * Linearises a filament that the last step has turned round where it stands at nothing: hot, its flow grows so slowly with its
   * voltage that Newton's method swings ever wider, while from cold it climbs to its end. @returns true where it did so
   */
  private lineariseLimited(base: Base, n: number, bits: Uint8Array, first: boolean): boolean {
    const { across, spans } = this
    const branch = this.branches[n]
    const span = across[branch.a] - across[branch.b]
    const law = activeLaw(branch, bits)
    const turned = !first && law.law === 'filament' && branch.gains.length === 0 && span * spans[n] < 0
    spans[n] = turned ? 0 : span
    if (!turned) {
      this.linearise(base, n, bits, across)
      return false
    }
    const { ga, gb, f0 } = base.assembly
    ga[n] = evaluate(law, 0, 0).da
    gb[n] = ga[n]
    f0[n] = 0
    return true
  }

  /** Heats the elements give off at x. */
  private heat(bits: Uint8Array, x: Float64Array): void {
    for (const { node } of this.heats) this.drive[node] = this.driveWithout(node)
    for (const { of, node } of this.heats) {
      const branch = this.branches[of]
      this.drive[node] += branchFlow(branch, bits, x).f * (x[branch.a] - x[branch.b])
    }
  }

  private driveWithout(node: number): number {
    return this.edits.drives.find((drive) => drive.node === node)?.value ?? this.soundDrive(node)
  }

  private step(base: Base): boolean {
    if (!this.eliminator.run(base.assembly, base.fronts, this.path)) return false
    substitutePath(this.eliminator.fronts, this.across)
    if (this.borders.length > 0) this.addBorders()
    return true
  }

  /** The flows of sources and machines that have one of their own, and what they do along the path: see `border.ts`. */
  private addBorders(): void {
    const { borders, columns, across, path, tree, eliminator } = this
    borders.forEach((border, c) => {
      const column = columns[c]
      for (let q = 0; q < path.length; q += 1) column[tree.nodeOf[path.steps[q]]] = 0
      border.nodes.forEach((node, p) => {
        if (tree.stepOf[node] >= 0) column[node] += border.injection[p]
      })
      solvePath(eliminator.fronts, column)
    })
    const seen = ({ nodes, constraint }: Border, x: Float64Array) =>
      nodes.reduce((sum, node, p) => sum + constraint[p] * x[node], 0)
    const schur = borders.map((row, r) => columns.map((column, c) => seen(row, column) + (r === c ? row.rho : 0)))
    const gaps = borders.map((border) => border.value - seen(border, across))
    const flows = invert(schur).map((row) => row.reduce((sum, value, c) => sum + value * gaps[c], 0))
    for (let q = 0; q < path.length; q += 1) {
      const node = tree.nodeOf[path.steps[q]]
      for (let c = 0; c < flows.length; c += 1) across[node] += columns[c][node] * flows[c]
    }
  }

  /** Newton's method on the path: what lies off it moves in proportion, and is left to the end. */
  private iterate(base: Base, bits: Uint8Array): boolean {
    const { path, across, before } = this
    const { nodeOf } = this.tree
    for (let q = 0; q < path.length; q += 1) {
      const node = nodeOf[path.steps[q]]
      across[node] = base.solution[node]
    }
    for (let iteration = 0; iteration < MOST_ITERATIONS; iteration += 1) {
      let limited = false
      for (const n of this.curved) limited = this.lineariseLimited(base, n, bits, iteration === 0) || limited
      this.heat(bits, across)
      for (let q = 0; q < path.length; q += 1) before[q] = across[nodeOf[path.steps[q]]]
      if (!this.step(base)) return false
      if (!limited && this.change() <= STEP_TOLERANCE) return true
    }
    return false
  }

  /** Largest relative change on the path in the last step; not a number where the numbers failed. */
  private change(): number {
    const { path, across, before, circuit } = this
    const { nodeOf } = this.tree
    let most = 0
    for (let q = 0; q < path.length; q += 1) {
      const node = nodeOf[path.steps[q]]
      const change = Math.abs(across[node] - before[q]) / (circuit.scale[node] + Math.abs(across[node]))
      if (!(change <= most)) most = change
    }
    return most
  }
}

/** By node: the largest across quantity in its domain. */
function largestOfDomain({ domains }: Circuit, x: Float64Array): Float64Array {
  const largest = new Map<string, number>()
  x.forEach((value, i) => largest.set(domains[i], Math.max(largest.get(domains[i]) ?? 0, Math.abs(value))))
  return x.map((_, i) => largest.get(domains[i]) as number)
}

const isCurved = ({ law, off, gains }: Branch): boolean => law.law !== 'linear' || off.law !== 'linear' || gains.length > 0
