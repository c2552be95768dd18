import { type Domain, REFERENCE } from '@halfsplit/network'
import type { Part } from '../model.js'
import { portName } from '../fragment.js'
import type { Draft, DraftPart, Reference } from './draft.js'
import { named } from './fields.js'
import { Groups } from './groups.js'
import { shorten } from './tree.js'

export const FRAME = 'frame'

/** Assemblies within assemblies; a port that stands for itself would be followed for ever. */
const MOST_SCOPES = 60

/** Which node each port is at, and which ports meet at a node. */
export interface Wiring {
  nodeOf: Map<string, string>
  portsAt: Map<string, string[]>
  /** Node of the frame a part can chafe against. */
  frameOf: (part: DraftPart) => string
  /** Ports joined by copper (wires, pins, splices), whatever its length: what ideal thinking calls one point. */
  copper: Groups
  /** Position of a port in `copper`. */
  indexOf: ReadonlyMap<string, number>
}

interface Point {
  name: string
  part?: DraftPart
  domain: Domain
}

/** Works out the nodes: names in links become ports, joined ports become one node, the battery's minus becomes the reference. */
export class WiringMaker {
  private readonly points: Point[] = []
  private readonly indexOf = new Map<string, number>()
  private readonly groups: Groups
  /** By connector: its last pin. */
  private readonly connectors = new Map<string, string>()

  constructor(
    private readonly draft: Draft,
    private readonly frame: Reference | undefined,
  ) {
    for (const part of draft.parts.values()) {
      if (part.connector) this.connectors.set(part.connector.name, part.name)
      for (const { name, domain } of part.kind.ports) this.addPoint({ name: portName(part, name), part, domain })
    }
    this.addPoint({ name: FRAME, domain: 'electrical' })
    this.groups = new Groups(this.points.length)
  }

  private addPoint(point: Point): void {
    this.indexOf.set(point.name, this.points.length)
    this.points.push(point)
  }

  make(): Wiring {
    for (const { ends } of this.draft.links) this.join(ends)
    if (this.frame) this.join([{ text: FRAME, scope: '', at: this.frame.at }, this.frame])
    const copper = this.copperGroups()
    const reference = this.referencePoint(copper)
    if (!this.frame) {
      this.groups.join(this.frameIndex, reference)
      copper.join(this.frameIndex, reference)
    }
    const { nodeOf, portsAt } = this.nodes(reference)
    const frameOf = (part: DraftPart) => {
      const at = part.frame ? (this.find(part.frame) ?? this.frameIndex) : this.frameIndex
      return nodeOf.get(this.points[at].name) ?? REFERENCE
    }
    return { nodeOf, portsAt, frameOf, copper, indexOf: this.indexOf }
  }

  private get frameIndex(): number {
    return this.points.length - 1
  }

  private join(ends: readonly Reference[]): void {
    const found = ends.map((end) => ({ end, index: this.find(end) })).filter((one) => one.index !== undefined)
    const [first, ...others] = found as { end: Reference; index: number }[]
    for (const { end, index } of others) {
      const [a, b] = [this.points[first.index], this.points[index]]
      if (a.domain === b.domain) this.groups.join(first.index, index)
      else {
        this.draft.issues.add('DOMAIN_MISMATCH', `'${a.name}' and '${b.name}' cannot meet`, end.at, {
          expected: `a point that carries ${CARRIES[a.domain]}, as '${a.name}' does`,
          received: `'${b.name}', which carries ${CARRIES[b.domain]}`,
        })
      }
    }
  }

  /** Index of the point a reference names, through the ports of assemblies; undefined (and an issue) if there is none. */
  private find(reference: Reference, depth = 0): number | undefined {
    if (reference.text === FRAME) return this.frameIndex
    const full = reference.scope + reference.text
    const inner = this.draft.aliases.get(full)
    if (inner && depth > MOST_SCOPES) return this.reportLoop(reference)
    if (inner) return this.find(inner, depth + 1)
    const index = this.indexOf.get(full)
    if (index === undefined) this.reportUnknown(reference, full)
    return index
  }

  private reportLoop({ text, at }: Reference): undefined {
    const fix = 'let the port stand for a port of a part inside'
    this.draft.issues.add('CYCLIC_ASSEMBLY', `a port of an assembly leads back to itself`, at, { received: named(text), fix })
    return undefined
  }

  private reportUnknown({ text, at, scope }: Reference, full: string): void {
    const owner = /^(.*?)[./][^./]*$/.exec(full)?.[1] ?? full
    const part = this.draft.parts.get(full) ?? this.draft.parts.get(owner)
    const { issues } = this.draft
    const received = named(text)
    if ([full, owner, owner.split('.')[0]].some((name) => this.draft.unread.has(name))) return
    if (part) {
      const ports = part.kind.ports.map((port) => portName(part, port.name).slice(scope.length))
      const message = `'${part.name}' has no point "${shorten(text, 30)}"`
      issues.add('UNKNOWN_PORT', message, at, {
        expected: `one of ${ports.join(', ')}`,
        received,
        nearest: issues.nearest(text, ports),
      })
      return
    }
    const connector = [full, owner, owner.replace(/\.[^.]*$/, '')].find((name) => this.connectors.has(name))
    if (connector !== undefined) {
      const last = (this.connectors.get(connector) as string).slice(scope.length)
      const expected = `a pin and its side, up to "${last}/a" and "${last}/b"`
      issues.add('UNKNOWN_PIN', `connector '${connector}' has no "${shorten(text, 30)}"`, at, { expected, received })
      return
    }
    issues.add('UNKNOWN_PART', `no part is called "${shorten(text.replace(/[./][^./]*$/, ''), 30)}"`, at, {
      expected: 'a point of a part of this description, as in "K7.common"',
      received,
      nearest: issues.nearest(text, this.namesIn(scope)),
    })
  }

  /** Every point as it may be named in a scope; a generator, for it is seldom gone through. */
  private *namesIn(scope: string): Iterable<string> {
    for (const names of [this.indexOf.keys(), this.draft.aliases.keys()]) {
      for (const name of names) if (name.startsWith(scope)) yield name.slice(scope.length)
    }
  }

  private copperGroups(): Groups {
    const copper = this.groups.copy()
    for (const part of this.draft.parts.values()) {
      if (!isCopper(part)) continue
      const [first, ...others] = part.kind.ports.map((port) => this.indexOf.get(portName(part, port.name)) as number)
      for (const other of others) copper.join(first, other)
    }
    return copper
  }

  /** The minus that copper leads to no other battery's plus; of batteries in a row, the last. Without a battery, the frame. */
  private referencePoint(copper: Groups): number {
    const batteries = [...this.draft.parts.values()].filter(isBattery)
    const at = (part: DraftPart, port: string) => this.indexOf.get(portName(part, port)) as number
    const lowest = batteries.find(
      (one) => !batteries.some((other) => other !== one && copper.same(at(one, 'minus'), at(other, 'plus'))),
    )
    return lowest ? at(lowest, 'minus') : this.frameIndex
  }

  private nodes(reference: number): Pick<Wiring, 'nodeOf' | 'portsAt'> {
    const nodeOf = new Map<string, string>()
    const portsAt = new Map<string, string[]>()
    const idOf = new Map<number, string>([[this.groups.of(reference), REFERENCE]])
    this.points.forEach(({ name }, i) => {
      const group = this.groups.of(i)
      const id = idOf.get(group) ?? name
      idOf.set(group, id)
      nodeOf.set(name, id)
      const ports = portsAt.get(id)
      if (ports && name !== FRAME) ports.push(name)
      else if (name !== FRAME) portsAt.set(id, [name])
    })
    return { nodeOf, portsAt }
  }
}

const CARRIES: Record<Domain, string> = {
  electrical: 'current',
  gas: 'air',
  liquid: 'liquid',
  thermal: 'heat',
  rotation: 'a turning shaft',
}

export const isBattery = (part: DraftPart | Part): boolean =>
  ['plus', 'minus'].every((name) => part.kind.ports.some((port) => port.name === name && port.domain === 'electrical'))

/** Wires, pins and splices, by their reference letters (IEC 81346-2): nothing in them but copper. */
const isCopper = (part: DraftPart): boolean =>
  (part.kind.letter === 'W' || part.kind.letter === 'X') && part.kind.ports.every((port) => port.domain === 'electrical')
