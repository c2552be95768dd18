import type { Border, Branch, Circuit } from '../circuit.js'
import { addElement } from '../elements.js'
import { NetworkError, nodeAt } from '../errors.js'
import { idealValue } from '../ideal-sources.js'
import { unfitLaw } from '../laws.js'
import type { LogicProgram } from '../logic/program.js'
import { compileSignals, type Threshold } from '../signals.js'
import type { Element, Law } from '../types.js'
import type { NetworkFault } from './fault.js'
import { grouped } from './tree.js'

/** A fault in the terms of the circuit. */
export interface Edits {
  /** Branches of the circuit that are others now. */
  replaced: { at: number; branch: Branch }[]
  added: Branch[]
  /** Nodes into which something else is driven, insulation included [through], and nodes held at something else [across]. */
  drives: { node: number; value: number }[]
  holds: { node: number; value: number }[]
  /** Sources and machines with a flow of their own that are others now. */
  borders: { at: number; border: Border }[]
  signals?: { thresholds: Threshold[]; logic: LogicProgram }
}

const NO_BRANCHES: Branch[] = []
const NO_VALUES: Edits['drives'] = []
const NO_BORDERS: Edits['borders'] = []
export const NO_EDITS: Edits = { replaced: [], added: NO_BRANCHES, drives: NO_VALUES, holds: NO_VALUES, borders: NO_BORDERS }

interface Drive {
  position: number
  node: number
  value: number
}

/** Turns the faults of one circuit into edits of its branches, drives and held values. */
export class Editor {
  /** By element: its branch, and its place among the held sources; -1 for none. */
  private readonly branchAt: Int32Array
  private readonly heldAt: Int32Array
  /** By branch: its like with another conductance, made once and changed for every fault. */
  private readonly retunable: Edits['replaced'][number][] = []
  /** What elements drive into nodes, by node. */
  private readonly driveStart: Int32Array
  private readonly drives: Drive[]
  /** The circuit with nothing in it, to see what one element alone adds. */
  private readonly single: Circuit
  /** Ideal sources stand in parallel: another value of one contradicts the other. */
  private readonly doublyHeld: boolean

  constructor(private readonly circuit: Circuit) {
    const { elements } = circuit.network
    const { names, branches, held, borders } = circuit
    this.branchAt = positions(elements.length, branches)
    this.heldAt = positions(elements.length, held)
    this.single = { ...circuit, branches: [], straight: [], curved: [], borders: [], injection: new Float64Array(names.length) }
    const bordered = new Set(borders.map(({ element }) => element))
    this.doublyHeld = elements.some(
      (element, position) => idealValue(element) !== undefined && this.heldAt[position] < 0 && !bordered.has(position),
    )
    const drives = elements.flatMap((element, position) => this.drivesOf(element, position))
    const [start, order] = grouped(
      Int32Array.from(drives, ({ node }) => node),
      names.length,
    )
    this.driveStart = start
    this.drives = Array.from(order, (n) => drives[n])
  }

  /** The edits of a fault, good until the next one is asked for; undefined where it changes more than these, or makes no sense: `settle` then says what it is. */
  edits(fault: NetworkFault): Edits | undefined {
    const retuned = this.retuned(fault)
    if (retuned) return { replaced: [retuned], added: NO_BRANCHES, drives: NO_VALUES, holds: NO_VALUES, borders: NO_BORDERS }
    const edits: Edits = { replaced: [], added: [], drives: [], holds: [], borders: [] }
    try {
      return this.fill(edits, fault) ? edits : undefined
    } catch (error) {
      if (error instanceof NetworkError) return undefined
      throw error
    }
  }

  private fill(edits: Edits, fault: NetworkFault): boolean {
    const { circuit } = this
    const { changes, added = NO_ELEMENTS, signals = NO_SIGNALS } = fault
    const changed = new Map<number, Element>()
    for (const { position, element } of changes) changed.set(position, element)
    let held = false
    const { elements } = circuit.network
    for (const [position, element] of changed) {
      const before = elements[position]
      if (before === undefined || !isAlike(before, element, circuit.heats.length > 0)) return false
      if (idealValue(before) !== undefined && this.heldAt[position] >= 0) held = true
      else if (!isPlain(before)) this.reborder(edits, position, element)
      else this.exchange(edits, position, element)
    }
    for (const element of added) {
      if (!isPlain(element)) return false
      const branch = this.branchOf(element, -1)
      if (branch && branch.a !== branch.b) edits.added.push(branch)
    }
    if (added.some(isDriving) || changes.some(({ position, element }) => isDriving(element) || isDriving(elements[position]))) {
      this.redrive(edits, changed, added)
    }
    if (held && !this.hold(edits, changed)) return false
    return signals.length === 0 || this.resignal(edits, signals)
  }

  /** The commonest fault made short: one plain conductance is another. */
  private retuned({ changes, added, signals }: NetworkFault): Edits['replaced'][number] | undefined {
    if (changes.length !== 1 || added?.length || signals?.length) return undefined
    const { position, element } = changes[0]
    const before = this.circuit.network.elements[position]
    if (before?.type !== 'law' || element.type !== 'law' || before.law.law !== 'linear' || element.law.law !== 'linear')
      return undefined
    if (before.id !== element.id || !sameEnds(before, element) || before.gains || element.gains) return undefined
    if (unfitLaw(element.law)) return undefined
    const at = this.branchAt[position]
    this.retunable[at] ??= { at, branch: { ...this.circuit.branches[at] } }
    const { branch } = this.retunable[at]
    branch.law = element.law
    branch.off = element.law
    return this.retunable[at]
  }

  /** Another source between floating nodes, another machine. @throws NetworkError as `compile` does */
  private reborder(edits: Edits, position: number, element: Element): void {
    const { single, circuit } = this
    single.borders.length = 0
    addElement(single, element, position, new Set([position]))
    let made = 0
    circuit.borders.forEach((border, at) => {
      if (border.element !== position) return
      edits.borders.push({ at, border: single.borders[made] })
      made += 1
    })
  }

  /** Another element in the place of one: its branch in the place of the other's, or apart from it. */
  private exchange(edits: Edits, position: number, element: Element): void {
    const branch = this.branchOf(element, position)
    const at = this.branchAt[position]
    const before = at < 0 ? undefined : this.circuit.branches[at]
    if (before && branch && branch.a === before.a && branch.b === before.b) {
      edits.replaced.push({ at, branch })
      return
    }
    if (before) edits.replaced.push({ at, branch: { ...before, law: CUT, off: CUT, signal: -1, gains: [] } })
    if (branch && branch.a !== branch.b) edits.added.push(branch)
  }

  /** @throws NetworkError as `compile` does */
  private branchOf(element: Element, position: number): Branch | undefined {
    const { single } = this
    single.branches.length = 0
    single.straight.length = 0
    single.curved.length = 0
    addElement(single, element, position, NONE)
    for (const { node } of this.drivesOf(element, position)) single.injection[node] = 0
    return single.branches[0]
  }

  private drivesOf(element: Element, position: number): Drive[] {
    if (!isDriving(element)) return NO_DRIVES
    const { index } = this.circuit
    const value = element.type === 'across' ? element.value / element.resistance : element.value
    return [
      { position, node: nodeAt(index, element.a, element), value },
      { position, node: nodeAt(index, element.b, element), value: -value },
    ]
  }

  /** Sums what is driven into the nodes concerned afresh, in the order of the elements: a difference would lose digits. */
  private redrive(edits: Edits, changed: ReadonlyMap<number, Element>, added: readonly Element[]): void {
    const { circuit, driveStart, drives } = this
    const now = [...changed].flatMap(([position, element]) => this.drivesOf(element, position))
    now.push(...added.flatMap((element) => this.drivesOf(element, circuit.network.elements.length)))
    const before = [...changed.keys()].flatMap((position) => this.drivesOf(circuit.network.elements[position], position))
    for (const node of new Set([...now, ...before].map((drive) => drive.node))) {
      const kept = drives.slice(driveStart[node], driveStart[node + 1]).filter(({ position }) => !changed.has(position))
      const all = [...kept, ...now.filter((drive) => drive.node === node)].sort((p, q) => p.position - q.position)
      const value = all.reduce((sum, drive) => sum + drive.value, 0) + circuit.insulation[node] * circuit.rest[node]
      edits.drives.push({ node, value })
    }
  }

  /** Follows changed ideal sources out from the reference again. */
  private hold(edits: Edits, changed: ReadonlyMap<number, Element>): boolean {
    const { circuit } = this
    if (this.doublyHeld) return false
    const value = Float64Array.from(circuit.heldValue)
    for (const { node, element, from, sign } of circuit.held) {
      const own = idealValue(changed.get(element) ?? circuit.network.elements[element]) ?? Number.NaN
      if (!Number.isFinite(own)) return false
      value[node] = value[from] + sign * own
      if (value[node] !== circuit.heldValue[node]) edits.holds.push({ node, value: value[node] })
    }
    return true
  }

  private resignal(edits: Edits, signals: NonNullable<NetworkFault['signals']>): boolean {
    const { circuit } = this
    const all = [...circuit.signals]
    for (const { position, signal } of signals) {
      if (all[position]?.id !== signal.id) return false
      all[position] = signal
    }
    edits.signals = compileSignals(all, circuit.index)
    return true
  }
}

const NO_ELEMENTS: readonly Element[] = []
const NO_SIGNALS: NonNullable<NetworkFault['signals']> = []
const NO_DRIVES: Drive[] = []
const NONE: ReadonlySet<number> = new Set()
const CUT: Law = { law: 'linear', g: 0 }

function positions(count: number, of: readonly { element: number }[]): Int32Array {
  const at = new Int32Array(count).fill(-1)
  of.forEach(({ element }, n) => {
    at[element] = n
  })
  return at
}

const isDriving = (element: Element): element is Extract<Element, { type: 'across' | 'through' }> =>
  element.type === 'through' || (element.type === 'across' && element.resistance !== 0)

/** Elements that add at most one branch and a drive. */
function isPlain(element: Element): boolean {
  const { type } = element
  if (type === 'across' || type === 'store') return idealValue(element) === undefined
  return type === 'law' || type === 'gate' || type === 'inertance' || type === 'through'
}

/** May one stand for the other without another set of unknowns? Heats hang on a named element and its ends. */
function isAlike(before: Element, after: Element, heated: boolean): boolean {
  if (isPlain(before) && isPlain(after))
    return !heated || (before.id === after.id && before.type === after.type && sameEnds(before, after))
  if (before.type !== after.type || !sameEnds(before, after)) return false
  const shafts = 'shaft' in before && 'shaft' in after && before.shaft === after.shaft
  return shafts || (idealValue(before) !== undefined && idealValue(after) !== undefined)
}

const sameEnds = (p: Element, q: Element): boolean => 'a' in p && 'a' in q && p.a === q.a && p.b === q.b
