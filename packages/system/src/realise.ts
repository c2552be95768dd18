import { HalfsplitError } from '@halfsplit/core'
import type { Change, Element, Network, NetworkFault, Node, Signal } from '@halfsplit/network'
import { AIR_NODE, type Fragment, FragmentMaker, portName, spreadKey } from './fragment.js'
import type { Fault, Imposed, Intervention, Part, System } from './model.js'

/** What the meter puts into the network between two points. */
export interface MeterLoad {
  red: string
  black: string
  /** Conductance of its input [S]. */
  conductance: number
}

export interface Conditions {
  /** Settings in force: `PART.setting` -> word or number [SI]. */
  settings: ReadonlyMap<string, string | number>
  intervention?: Intervention
  faults?: readonly Fault[]
  /** Value of z by latent index; zero where left out. The virtual machine draws it, predictions leave it at zero. */
  draw?: Float64Array
  /** Pressures and temperatures that closed-off nodes keep, from the step before, by node name. */
  kept?: ReadonlyMap<string, number>
  meter?: MeterLoad
}

/** The network of a machine in one condition, and where each part's elements and signals stand in it. */
export interface Realised {
  network: Network
  elementsOf: ReadonlyMap<string, { start: number; fragment: Fragment }>
}

/** What a latent changes: elements by position, and the levels of thresholds by signal id. */
export interface LatentChange {
  latent: number
  change: Change
  levels: { signal: string; rise: number; fall: number; scale: number }[]
}

const JUMPER_OHM = 0.02
const LATENT_STEP = 1e-3

/**
 * The one door from a description to numbers: names, settings, faults and tools become a network of primitives.
 * Parts are made once per condition of their own and reused, so that a thousand faults cost a thousand joinings.
 */
export class Realiser {
  private readonly maker: FragmentMaker

  constructor(readonly system: System) {
    this.maker = new FragmentMaker(system)
  }

  realise(conditions: Conditions): Realised {
    const elements: Element[] = []
    const signals: Signal[] = []
    const nodes: Node[] = [...this.maker.nodes]
    const elementsOf = new Map<string, { start: number; fragment: Fragment }>()
    const removed = removedParts(this.system, conditions.intervention)
    for (const part of this.system.parts.values()) {
      const fault = conditions.faults?.filter((one) => one.part === part.name)
      if (fault && fault.length > 1) {
        throw new HalfsplitError(
          'FAULT_TWICE',
          `two faults in one part: ${fault.map((one) => one.mode).join(', ')} in '${part.name}'`,
        )
      }
      const fragment = this.maker.make(part, conditions.settings, fault?.[0], removed.has(part.name), conditions.draw)
      elementsOf.set(part.name, { start: elements.length, fragment })
      elements.push(...fragment.elements)
      signals.push(...fragment.signals)
      nodes.push(...fragment.nodes)
    }
    this.addBridges(conditions, elements)
    this.addTools(conditions, elements)
    return { network: { nodes: conditions.kept ? keep(nodes, conditions.kept) : nodes, elements, signals }, elementsOf }
  }

  /** How each latent that touches a part moves its primitives, at the realised condition. */
  latentChanges(realised: Realised): LatentChange[] {
    const changes: LatentChange[] = []
    for (const { start, fragment } of realised.elementsOf.values()) {
      for (const local of fragment.latentChanges(LATENT_STEP)) {
        changes.push({
          latent: local.latent,
          levels: local.levels,
          change: { step: LATENT_STEP, elements: local.elements.map(({ at, element }) => ({ position: start + at, element })) },
        })
      }
    }
    return changes
  }

  /**
   * What faults change in the network of a realised condition, for a campaign; undefined where a part under its fault is made otherwise
   * than sound: more of it, or less.
   */
  networkFault(
    { elementsOf, network }: Realised,
    conditions: Conditions,
    id: string,
    faults: readonly Fault[],
  ): NetworkFault | undefined {
    const found: Required<NetworkFault> = { id, changes: [], added: [], signals: [] }
    const removed = removedParts(this.system, conditions.intervention)
    for (const fault of faults) {
      if (fault.other) {
        found.added.push(bridge(this.system, fault))
        continue
      }
      const { start, fragment } = elementsOf.get(fault.part) as { start: number; fragment: Fragment }
      const part = this.system.parts.get(fault.part) as Part
      const other = this.maker.make(part, conditions.settings, fault, removed.has(part.name), conditions.draw)
      if (!fragment.alike(other)) return undefined
      for (const { at, element } of fragment.differences(other).elements) found.changes.push({ position: start + at, element })
      for (const signal of fragment.otherSignals(other)) {
        found.signals.push({ position: network.signals.findIndex(({ id: own }) => own === signal.id), signal })
      }
    }
    return found
  }

  /** How one fault's own size moves its part's primitives: a relative step for sizes on a log scale, absolute on a linear one. */
  severityChange(
    realised: Realised,
    conditions: Conditions,
    fault: Fault,
    step: number,
    scale: 'log' | 'linear',
  ): LatentChange | undefined {
    if (fault.severity === undefined) return undefined
    const moved = { ...fault, severity: scale === 'log' ? fault.severity * Math.exp(step) : fault.severity + step }
    if (fault.other) return bridgeChange(realised, fault, moved, step)
    const place = realised.elementsOf.get(fault.part)
    const part = this.system.parts.get(fault.part)
    if (!place || !part) return undefined
    const removed = removedParts(this.system, conditions.intervention).has(part.name)
    const other = this.maker.make(part, conditions.settings, moved, removed, conditions.draw)
    const difference = place.fragment.differences(other)
    return {
      latent: -1,
      levels: difference.levels.map((level) => ({
        ...level,
        rise: level.rise / step,
        fall: level.fall / step,
        scale: level.scale / step,
      })),
      change: { step, elements: difference.elements.map(({ at, element }) => ({ position: place.start + at, element })) },
    }
  }

  private addBridges(conditions: Conditions, elements: Element[]): void {
    for (const fault of conditions.faults ?? []) {
      if (!fault.other) continue
      elements.push(bridge(this.system, fault))
    }
  }

  private addTools({ intervention, meter }: Conditions, elements: Element[]): void {
    if (intervention?.do === 'jumper') {
      const a = nodeAt(this.system, intervention.from)
      const b = nodeAt(this.system, intervention.to)
      elements.push({ type: 'law', id: 'jumper', a, b, law: { law: 'linear', g: 1 / JUMPER_OHM } })
    }
    if (meter) {
      const law = { law: 'linear', g: meter.conductance } as const
      elements.push({ type: 'law', id: 'meter', a: meter.red, b: meter.black, law })
    }
  }
}

const bridgeId = (fault: Fault): string => `${fault.part}+${fault.other}:bridge`

function bridge(system: System, fault: Fault): Element {
  const [a, b] = [fault.part, fault.other as string].map((name) => nodeAt(system, portName(system.parts.get(name) as Part, 'a')))
  return { type: 'law', id: bridgeId(fault), a, b, law: { law: 'linear', g: 1 / (fault.severity ?? 0.02) } }
}

function bridgeChange(realised: Realised, fault: Fault, moved: Fault, step: number): LatentChange | undefined {
  const position = realised.network.elements.findIndex((element) => element.id === bridgeId(fault))
  const element = realised.network.elements[position]
  if (element?.type !== 'law') return undefined
  const law = { law: 'linear', g: 1 / (moved.severity as number) } as const
  return { latent: -1, levels: [], change: { step, elements: [{ position, element: { ...element, law } }] } }
}

/** Node of a `PART.port` or `X12.3/a`. @throws HalfsplitError UNKNOWN_PORT */
export function nodeAt(system: System, port: string): string {
  const node = system.nodeOf.get(port)
  if (node === undefined) throw new HalfsplitError('UNKNOWN_PORT', `'${system.name}' has no point '${port}'`)
  return node
}

function removedParts(system: System, intervention?: Intervention): ReadonlySet<string> {
  if (intervention?.do !== 'unplug') return NONE
  const names = new Set<string>()
  for (const part of system.parts.values()) {
    if (intervention.parts.includes(part.name) || (part.connector && intervention.parts.includes(part.connector.name)))
      names.add(part.name)
  }
  return names
}

const NONE: ReadonlySet<string> = new Set()

/** Fluid and thermal nodes fall back to what they held before; electrical ones to the reference. */
function keep(nodes: Node[], kept: ReadonlyMap<string, number>): Node[] {
  return nodes.map((node) => {
    const value = node.domain === 'electrical' || node.id === AIR_NODE ? undefined : kept.get(node.id)
    return value === undefined ? node : { ...node, rest: value }
  })
}

/** The settings in force at each step of the way into a state, from the state it starts from down to its own last step. */
export function recipe(system: System, stateName: string): Imposed[][] {
  const chain: Imposed[][] = []
  const seen = new Set<string>()
  for (let name: string | undefined = stateName; name !== undefined; ) {
    const state = system.states.get(name)
    if (!state || seen.has(name)) throw new HalfsplitError('UNKNOWN_STATE', `'${system.name}' has no state '${name}'`)
    seen.add(name)
    chain.unshift([...state.impose])
    name = state.from
  }
  return chain
}

/** Puts one step of a recipe into force: values, and how surely they are known. */
export function impose(settings: Map<string, string | number>, step: readonly Imposed[]): void {
  for (const { part, setting, value, sd } of step) {
    settings.set(`${part}.${setting}`, value)
    settings.set(spreadKey(part, setting), sd)
  }
}
