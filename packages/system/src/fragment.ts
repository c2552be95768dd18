import { STANDARD_ATMOSPHERE } from '@halfsplit/core'
import type { Builder, PartView } from '@halfsplit/kinds'
import { type Domain, type Element, type Law, type Node, REFERENCE, type Signal } from '@halfsplit/network'
import type { Fault, Latent, Part, System } from './model.js'

/** Surroundings: the node of the open air, and the temperature of what has none of its own [K]. */
export const AIR_NODE = 'air'
export const SURROUNDINGS = 293.15

/** What holds a node when nothing else does: 1 GOhm of harness; almost nothing for closed volumes and shafts. */
const INSULATION: Record<Domain, number> = { electrical: 1e-9, gas: 1e-18, liquid: 1e-20, thermal: 1e-12, rotation: 1e-6 }
const REST: Record<Domain, number> = {
  electrical: 0,
  gas: STANDARD_ATMOSPHERE,
  liquid: STANDARD_ATMOSPHERE,
  thermal: SURROUNDINGS,
  rotation: 0,
}

interface Level {
  signal: string
  rise: number
  fall: number
  scale: number
}

export interface LocalChange {
  latent: number
  elements: { at: number; element: Element }[]
  levels: Level[]
}

/** A part made of primitives in one condition of its own, with what its latents would change. */
export class Fragment {
  readonly elements: Element[] = []
  readonly signals: Signal[] = []
  readonly nodes: Node[] = []
  private changes: LocalChange[] | undefined

  constructor(
    private readonly vary: (latent: Latent, step: number) => Fragment,
    private readonly latents: readonly Latent[],
  ) {}

  /** Per latent: elements at z + step, and the slopes of threshold levels per unit of z. */
  latentChanges(step: number): LocalChange[] {
    this.changes ??= this.latents
      .map((latent) => {
        const { elements, levels } = this.differences(this.vary(latent, step))
        return {
          latent: latent.index,
          elements,
          levels: levels.map((level) => ({
            ...level,
            rise: level.rise / step,
            fall: level.fall / step,
            scale: level.scale / step,
          })),
        }
      })
      .filter((change) => change.elements.length > 0 || change.levels.length > 0)
    return this.changes
  }

  /** Whether another making of the part has the same elements, signals and nodes, whatever their values. */
  alike(other: Fragment): boolean {
    const same = (own: readonly { id: string }[], its: readonly { id: string }[]) =>
      own.length === its.length && own.every(({ id }, i) => id === its[i].id)
    return same(this.elements, other.elements) && same(this.signals, other.signals) && same(this.nodes, other.nodes)
  }

  /** Signals of another making that are not as these. */
  otherSignals(other: Fragment): Signal[] {
    return other.signals.filter((signal, i) => JSON.stringify(signal) !== JSON.stringify(this.signals[i]))
  }

  /** Elements and threshold levels in which another making of the same part differs; levels as differences. */
  differences(other: Fragment): { elements: LocalChange['elements']; levels: Level[] } {
    const elements: LocalChange['elements'] = []
    this.elements.forEach((element, at) => {
      const twin = other.elements[at]
      if (twin && !sameElement(element, twin)) elements.push({ at, element: twin })
    })
    const levels: Level[] = []
    this.signals.forEach((signal, i) => {
      const twin = other.signals[i]
      if (signal.type !== 'threshold' || twin?.type !== 'threshold') return
      const gap = { rise: twin.rise - signal.rise, fall: twin.fall - signal.fall, scale: twin.scale - signal.scale }
      if (gap.rise !== 0 || gap.fall !== 0 || gap.scale !== 0) levels.push({ signal: signal.id, ...gap })
    })
    return { elements, levels }
  }
}

function sameElement(p: Element, q: Element): boolean {
  const follows = 'gains' in p || 'gains' in q
  if (!follows && p.type === 'law' && q.type === 'law') return sameLaw(p.law, q.law)
  if (!follows && p.type === 'gate' && q.type === 'gate') return sameLaw(p.on, q.on) && sameLaw(p.off, q.off)
  return JSON.stringify(p) === JSON.stringify(q)
}

const sameLaw = (p: Law, q: Law): boolean =>
  p.law === 'linear' && q.law === 'linear' ? p.g === q.g : JSON.stringify(p) === JSON.stringify(q)

/** Makes fragments and keeps them by condition. */
export class FragmentMaker {
  /** Nodes of the machine's ports and of its surroundings; inner nodes come with their part. */
  readonly nodes: Node[]
  private readonly kept = new Map<string, Fragment>()
  private readonly latentsOf = new Map<string, Latent[]>()

  constructor(private readonly system: System) {
    this.nodes = portNodes(system)
    for (const latent of system.latents) this.latentsOf.set(latent.part, [...(this.latentsOf.get(latent.part) ?? []), latent])
  }

  make(
    part: Part,
    settings: ReadonlyMap<string, string | number>,
    fault: Fault | undefined,
    removed: boolean,
    draw?: Float64Array,
  ): Fragment {
    if (draw) return this.build(part, settings, fault, removed, draw)
    const own = Object.keys(part.kind.settings ?? {}).map((name) => {
      const spread = settings.get(spreadKey(part.name, name)) ?? 0
      return `${settings.get(`${part.name}.${name}`) ?? ''}~${spread}`
    })
    const key = `${part.name}|${own.join(',')}|${fault ? `${fault.mode}@${fault.severity ?? ''}` : ''}|${removed}`
    const known = this.kept.get(key)
    if (known) return known
    const fragment = this.build(part, settings, fault, removed, undefined)
    this.kept.set(key, fragment)
    return fragment
  }

  private build(
    part: Part,
    settings: ReadonlyMap<string, string | number>,
    fault: Fault | undefined,
    removed: boolean,
    draw: Float64Array | undefined,
    moved?: { latent: Latent; step: number },
  ): Fragment {
    const latents = this.latentsOf.get(part.name) ?? []
    const vary = (latent: Latent, step: number) => this.build(part, settings, fault, removed, draw, { latent, step })
    const fragment = new Fragment(vary, latents)
    const z = (latent: Latent) => (draw?.[latent.index] ?? 0) + (moved?.latent.index === latent.index ? moved.step : 0)
    const view = partView(part, settings, fault, latents, z)
    part.kind.build(view, builder(this.system, part, fragment))
    return removed ? emptied(fragment, vary) : fragment
  }
}

/** An unplugged part carries nothing and its signals are off; its inner nodes stay, held by their insulation. */
function emptied(fragment: Fragment, vary: (latent: Latent, step: number) => Fragment): Fragment {
  const empty = new Fragment(vary, [])
  empty.nodes.push(...fragment.nodes)
  empty.signals.push(...fragment.signals.map((signal): Signal => ({ type: 'imposed', id: signal.id, value: false })))
  return empty
}

function portNodes(system: System): Node[] {
  const nodes: Node[] = []
  const seen = new Set<string>([REFERENCE])
  for (const part of system.parts.values()) {
    for (const port of part.kind.ports) {
      const id = system.nodeOf.get(portName(part, port.name)) as string
      if (seen.has(id)) continue
      seen.add(id)
      nodes.push({ id, domain: port.domain, insulation: INSULATION[port.domain], rest: REST[port.domain] })
    }
  }
  if (!seen.has(AIR_NODE)) nodes.push({ id: AIR_NODE, domain: 'gas', insulation: 1, rest: STANDARD_ATMOSPHERE })
  return nodes
}

/** Where a map of settings keeps the spread of an imposed quantity, one sd, beside its value. */
export const spreadKey = (part: string, setting: string): string => `${part}.${setting} spread`

/** `K7.common`, and `X12.3/a` for the side of a pin. */
export const portName = (part: Pick<Part, 'name' | 'connector'>, port: string): string =>
  part.connector ? `${part.name}/${port}` : `${part.name}.${port}`

/** What a kind sees of its part in one condition. */
export function partView(
  part: Part,
  settings: ReadonlyMap<string, string | number>,
  fault: Fault | undefined,
  latents: readonly Latent[],
  z: (latent: Latent) => number,
): PartView {
  const setting = (name: string) => settings.get(`${part.name}.${name}`)
  const imposed = (name: string) => {
    const latent = latents.find((one) => one.rating === `=${name}`)
    return Number(setting(name)) + (latent ? latent.at(z(latent)) * Number(settings.get(spreadKey(part.name, name)) ?? 0) : 0)
  }
  return {
    name: part.name,
    value(rating) {
      const latent = latents.find((one) => one.rating === rating)
      if (latent) return latent.at(z(latent))
      const quantity = part.ratings.get(rating)
      if (!quantity) throw new Error(`kind '${part.kind.name}' asks for the rating '${rating}', which it does not have`)
      return quantity.value
    },
    has: (rating) => part.ratings.has(rating),
    word: (choice) => part.choices[choice],
    setting: (name) => String(setting(name)),
    imposed,
    temperature: setting('temperature') === undefined ? SURROUNDINGS : imposed('temperature'),
    fault: (mode) => (fault?.mode === mode ? (fault.severity ?? 1) : undefined),
  }
}

function builder(system: System, part: Part, fragment: Fragment): Builder {
  const own = (name: string) => `${part.name}:${name}`
  const law = (value: Law | number): Law => (typeof value === 'number' ? { law: 'linear', g: value } : value)
  const signal = (name: string, make: (id: string) => Signal): string => {
    fragment.signals.push(make(own(name)))
    return own(name)
  }
  return {
    port: (name) => system.nodeOf.get(portName(part, name)) as string,
    inner(name, domain, rest) {
      const id = `${part.name}~${name}`
      fragment.nodes.push({ id, domain, insulation: INSULATION[domain], rest: rest ?? REST[domain] })
      return id
    },
    frame: part.frame,
    air: AIR_NODE,
    conductance: (name, a, b, g) => fragment.elements.push({ type: 'law', id: own(name), a, b, law: { law: 'linear', g } }),
    law: (name, a, b, value) => fragment.elements.push({ type: 'law', id: own(name), a, b, law: value }),
    gate: (name, a, b, on, off, by) =>
      fragment.elements.push({ type: 'gate', id: own(name), a, b, on: law(on), off: law(off), signal: by }),
    add: (element) => fragment.elements.push({ ...element, id: own(element.id) }),
    threshold: (name, a, b, scale, rise, fall) => signal(name, (id) => ({ type: 'threshold', id, a, b, scale, rise, fall })),
    signal,
  }
}
