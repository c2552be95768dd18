import {
  compile,
  type DiscreteState,
  floatingNodes,
  flowOf,
  type Network,
  NetworkError,
  type Settled,
  settle,
} from '@halfsplit/network'
import type { Fault, Realised, System } from '@halfsplit/system'
import { asFault, type SizedFault, sizedKey } from '../faults.js'
import type { Machine } from '../machine.js'
import { type Setup, setupKey } from '../setup.js'
import { ASSUMPTIONS } from '@halfsplit/core'
import { hazardPoints, type HazardPoint, presentAt } from './presence.js'

/** What is looked at besides the setup as it stands. */
export interface Variation {
  /** The jumper is a dead short, so that a closed contact beside it takes nothing away from it. */
  deadShort?: boolean
  /** A part taken out, to see what still goes on without it. */
  without?: string
}

/** A machine under some faults at the first moment of a setup, before a fuse has opened in it: as much of it as hazards ask for. */
export interface Moment {
  /** Positions of the hazard points that are there. */
  present: ReadonlySet<number>
  /** Through the jumper [A]; 0 without one. */
  jumper: number
  /** Through each wire, by name [A]. */
  wires: ReadonlyMap<string, number>
  /** Electrical nodes with volts that hurt a meter on ohms, and how many [V]; only in dead states. */
  live: ReadonlyMap<string, number>
  /** What opened for good on the way into the state. */
  blown: readonly Fault[]
}

/** What a state leaves behind for what is done in it. */
interface Left {
  discrete: DiscreteState
  kept: ReadonlyMap<string, number>
  blown: readonly Fault[]
  moment: Moment | undefined
}

const DEAD_SHORT = 1e5

/** Moments of one machine, worked out once: the description does not change under a job. */
export class HazardStudy {
  readonly points: readonly HazardPoint[]
  private readonly states = new Map<string, Left>()
  private readonly moments = new Map<string, Moment | undefined>()

  private constructor(private readonly machine: Machine) {
    this.points = hazardPoints(machine.system)
  }

  private static readonly known = new WeakMap<Machine, HazardStudy>()

  static of(machine: Machine): HazardStudy {
    let study = HazardStudy.known.get(machine)
    if (!study) {
      study = new HazardStudy(machine)
      HazardStudy.known.set(machine, study)
    }
    return study
  }

  /** Undefined where the machine finds no rest. */
  moment(faults: readonly SizedFault[], setup: Setup, variation: Variation = {}): Moment | undefined {
    if (!setup.intervention && variation.without === undefined) return this.left(faults, setup.state).moment
    const key = [setupKey(setup), variation.deadShort ? 'short' : '', variation.without ?? '', ...faults.map(sizedKey)].join('|')
    if (!this.moments.has(key)) this.moments.set(key, this.work(faults, setup, variation))
    return this.moments.get(key)
  }

  private left(faults: readonly SizedFault[], state: string): Left {
    const key = [state, ...faults.map(sizedKey)].join('|')
    let left = this.states.get(key)
    if (!left) {
      const { discrete, kept, blown, settled } = this.machine.arrivePlain(faults, state)
      const moment = settled && this.read(settled, state, withBlown(faults, blown), blown)
      left = { discrete, kept, blown, moment }
      this.states.set(key, left)
    }
    return left
  }

  private work(faults: readonly SizedFault[], setup: Setup, { deadShort, without }: Variation): Moment | undefined {
    const { realiser } = this.machine
    const { state, intervention } = setup
    const { discrete, kept, blown } = this.left(faults, state)
    const tried = intervention?.do === 'swap' ? intervention.part : undefined
    const present = withBlown(faults, blown).filter(({ part }) => part !== tried)
    const realised = realiser.realise({ settings: this.machine.settingsIn(state), intervention, faults: present, kept })
    const network = taken(shorted(realised.network, deadShort), realised, without)
    try {
      const settled = settle(compile(network), { previous: discrete, starts: this.machine.soundStarts(state) })
      return settled.status === 'settled' ? this.read(settled, state, present, blown) : undefined
    } catch (error) {
      if (error instanceof NetworkError) return undefined
      throw error
    }
  }

  private read(settled: Settled, state: string, faults: readonly Fault[], blown: readonly Fault[]): Moment {
    const { system } = this.machine
    const jumper = settled.circuit.network.elements.some(({ id }) => id === 'jumper')
    return {
      present: presentAt(system, this.points, this.machine.settingsIn(state), faults, settled),
      jumper: jumper ? Math.abs(flowOf(settled, 'jumper')) : 0,
      wires: wireCurrents(system, settled),
      live: system.states.get(state)?.dead ? liveNodes(settled) : NONE,
      blown,
    }
  }
}

/** What opened for good stands in place of the fault that the part had. */
function withBlown(faults: readonly SizedFault[], blown: readonly Fault[]): Fault[] {
  const opened = new Set(blown.map(({ part }) => part))
  return [...faults.map(asFault).filter(({ part }) => !opened.has(part)), ...blown]
}

const NONE: ReadonlyMap<string, number> = new Map()

function shorted(network: Network, deadShort: boolean | undefined): Network {
  if (!deadShort) return network
  const elements = network.elements.map((element) =>
    element.id === 'jumper' && element.type === 'law' ? { ...element, law: { law: 'linear', g: DEAD_SHORT } as const } : element,
  )
  return { ...network, elements }
}

/** The network without the elements of a part. */
function taken(network: Network, { elementsOf }: Realised, without: string | undefined): Network {
  const place = without === undefined ? undefined : elementsOf.get(without)
  if (!place) return network
  const end = place.start + place.fragment.elements.length
  return { ...network, elements: network.elements.filter((_, i) => i < place.start || i >= end) }
}

/** A point that hangs on insulation alone has volts that no current stands behind: they hurt no meter. */
function liveNodes(settled: Settled): ReadonlyMap<string, number> {
  const { circuit, point } = settled
  const floating = floatingNodes(settled)
  const live = new Map<string, number>()
  circuit.names.forEach((name, i) => {
    const volts = point.across[i]
    if (circuit.domains[i] === 'electrical' && Math.abs(volts) > ASSUMPTIONS.deadVolts && !floating.has(name))
      live.set(name, volts)
  })
  return live
}

/** Magnitude of the current in each wire [A]. */
function wireCurrents(system: System, { circuit, point }: Settled): ReadonlyMap<string, number> {
  const found = new Map<string, number>()
  for (const element of circuit.network.elements) {
    if (element.type !== 'law' || element.law.law !== 'linear' || !element.id.endsWith(RUN)) continue
    const name = element.id.slice(0, -RUN.length)
    if (system.parts.get(name)?.kind.name !== 'wire') continue
    const [a, b] = [element.a, element.b].map((node) => point.across[circuit.index.get(node) ?? -1] ?? 0)
    found.set(name, Math.abs(element.law.g * (a - b)))
  }
  return found
}

/** Own name of the copper of a wire. */
const RUN = ':run'
