import { normalCdf } from '@halfsplit/core'
import type { MarginCondition, Sensitivities } from '@halfsplit/inference'
import {
  type Circuit,
  compile,
  type DiscreteState,
  flowOf,
  NetworkError,
  type Probe,
  probeValue,
  type Settled,
  settle,
  type Signal,
  slopes,
  type Unsettled,
} from '@halfsplit/network'
import { AIR_NODE, type Fault, impose, type LatentChange, type Realised, Realiser, recipe, type System } from '@halfsplit/system'
import { asFault, type SizedFault, sizedKeys } from './faults.js'
import { LatentSpace } from './latent-space.js'
import { norm, type Sense, sensitivitiesOf, sparse } from './sense.js'
import type { Setup } from './setup.js'

/** What a machine remembers of how it came to a state, under one set of faults: what later steps start from. */
export interface End {
  conditions: readonly MarginCondition[]
  discrete: DiscreteState
  kept: ReadonlyMap<string, number>
  /** Parts opened for good on the way (a fuse, a coil). */
  blown: readonly Fault[]
  /** Rough probability of its conditions, each taken alone. */
  share: number
}

/** A machine come to rest in a setup, one branch of its doubtful thresholds. `settled` is missing where it finds no rest. */
export interface Arrival extends End {
  settled?: Settled
  unsettled?: Unsettled
  sense?: Sense
}

/** A threshold whose margin is under so many standard deviations from switching is looked at both ways. */
const DOUBT_SD = 4
const MOST_DOUBTS = 3
/** Branches rarer than one doubt at its limit, all their doubts together, are left out. */
const LEAST_SHARE = 3e-5

/**
 * A described machine under faults: goes into states by their recipes, each step settling from what the step before left
 * behind, so that latches, blown fuses and trapped pressure come out per fault. Near a threshold it follows both branches.
 */
export class Machine {
  readonly space: LatentSpace
  readonly realiser: Realiser
  private readonly ends = new Map<string, readonly End[]>()
  private readonly plainEnds = new Map<string, End>()
  private readonly sound = new Map<string, Map<string, Float64Array>>()
  private readonly settings = new Map<string, ReadonlyMap<string, string | number>>()

  constructor(readonly system: System) {
    this.space = new LatentSpace(system)
    this.realiser = new Realiser(system)
  }

  /** How the machine comes to rest in a setup under these faults. */
  arrive(faults: readonly SizedFault[], setup: Setup): Arrival[] {
    if (setup.intervention) return this.endsIn(faults, setup.state).flatMap((end) => this.enter(end, faults, setup))
    return this.before(faults, setup.state).flatMap((end) => this.enter(end, faults, setup))
  }

  /** The likeliest rest only, doubtful thresholds left where the middle of every tolerance puts them: quick, for first looks. */
  arrivePlain(faults: readonly SizedFault[], state: string): Arrival {
    const from = this.system.states.get(state)?.from
    const end = from === undefined ? START : this.plainEnd(faults, from)
    return new Step(this, end, faults, { state }).plain()
  }

  private plainEnd(faults: readonly SizedFault[], state: string): End {
    const key = `${state}|${sizedKeys(faults)}`
    let end = this.plainEnds.get(key)
    if (!end) {
      end = endOf(this.arrivePlain(faults, state))
      this.plainEnds.set(key, end)
    }
    return end
  }

  /** What is left behind in a state, kept by faults and state. */
  private endsIn(faults: readonly SizedFault[], state: string): readonly End[] {
    const key = `${state}|${sizedKeys(faults)}`
    let ends = this.ends.get(key)
    if (!ends) {
      ends = this.arrive(faults, { state }).map(endOf)
      this.ends.set(key, ends)
    }
    return ends
  }

  private before(faults: readonly SizedFault[], state: string): readonly End[] {
    const from = this.system.states.get(state)?.from
    return from === undefined ? [START] : this.endsIn(faults, from)
  }

  /** Across quantities of the sound machine on its way into a state, by the states of its signals: where Newton starts under a fault. */
  soundStarts(state: string): ReadonlyMap<string, Float64Array> {
    let known = this.sound.get(state)
    if (!known) {
      known = new Map()
      this.sound.set(state, known)
      this.arrivePlain([], state)
    }
    return known
  }

  /** Notes what the sound machine passes through. */
  noteSound(state: string, signals: string, across: Float64Array): void {
    const known = this.sound.get(state) ?? new Map<string, Float64Array>()
    known.set(signals, across)
    this.sound.set(state, known)
  }

  /** Settings in force in a state: every default, then what each step of the recipe imposes. */
  settingsIn(state: string): ReadonlyMap<string, string | number> {
    let settings = this.settings.get(state)
    if (!settings) {
      const all = new Map<string, string | number>(this.system.defaults)
      for (const step of recipe(this.system, state)) impose(all, step)
      settings = all
      this.settings.set(state, settings)
    }
    return settings
  }

  private enter(end: End, faults: readonly SizedFault[], setup: Setup): Arrival[] {
    const step = new Step(this, end, faults, setup)
    return step.expand({}, [])
  }
}

/** What an arrival leaves behind, without the solved network it was read from. */
const endOf = ({ conditions, discrete, kept, blown, share }: Arrival): End => ({ conditions, discrete, kept, blown, share })

/** Before the first step: parked cold, all at rest. */
const START: End = { conditions: [], discrete: {}, kept: new Map(), blown: [], share: 1 }

/** One step of a recipe: from what was left behind to the branches of the next rest. */
class Step {
  private readonly realised: Realised
  private readonly circuit: Circuit | undefined
  private readonly conflict: string[]
  private changes: LatentChange[] | undefined
  private readonly senses = new Map<Settled, Sense>()

  constructor(
    private readonly machine: Machine,
    private readonly end: End,
    private readonly faults: readonly SizedFault[],
    private readonly setup: Setup,
  ) {
    this.realised = machine.realiser.realise(this.conditions())
    let conflict: string[] = []
    try {
      this.circuit = compile(this.realised.network)
    } catch (error) {
      if (!(error instanceof NetworkError)) throw error
      conflict = error.elements
    }
    this.conflict = conflict
  }

  private conditions() {
    const { machine, end, faults, setup } = this
    const blown = new Set(end.blown.map((fault) => fault.part))
    const swapped = setup.intervention?.do === 'swap' ? setup.intervention.part : undefined
    const alive = faults.filter(({ fault }) => !blown.has(fault.part.name) && fault.part.name !== swapped).map(asFault)
    return {
      settings: machine.settingsIn(setup.state),
      intervention: setup.intervention,
      faults: [...alive, ...end.blown],
      kept: end.kept,
    }
  }

  plain(): Arrival {
    const { circuit, end } = this
    if (!circuit) return this.contradiction([])
    const settled = settle(circuit, { previous: end.discrete, ...this.starts() })
    if (settled.status !== 'settled') return this.unsettled(settled, [])
    const blown = this.overloaded(settled)
    return blown ? this.after(blown).plain() : this.arrival(settled, [])
  }

  /** The same step with one more part open for good. */
  private after(blown: Fault): Step {
    return new Step(this.machine, { ...this.end, blown: [...this.end.blown, blown] }, this.faults, this.setup)
  }

  private contradiction(conditions: readonly MarginCondition[]): Arrival {
    return this.unsettled({ status: 'no convergence', parts: this.conflict, node: '', residual: 0, iterations: 0 }, conditions)
  }

  /** Both sides of the nearest doubtful threshold, then of the next, until none is in doubt. */
  expand(forced: DiscreteState, conditions: readonly MarginCondition[]): Arrival[] {
    const { circuit, end } = this
    if (!circuit) return [this.contradiction(conditions)]
    const settled = settle(circuit, { previous: end.discrete, forced, ...this.starts() })
    if (settled.status !== 'settled') return [this.unsettled(settled, conditions)]
    const blown = this.overloaded(settled)
    if (blown) return this.after(blown).expand({}, conditions)
    const doubt = Object.keys(forced).length < MOST_DOUBTS ? this.nearest(settled, forced) : undefined
    if (!doubt) return [this.arrival(settled, conditions)]
    const { signal, before, mean, sensitivities } = doubt
    return [true, false].flatMap((switched) => {
      const more: MarginCondition[] = [...conditions, { mean, sensitivities, side: switched ? 1 : -1 }]
      if (end.share * shareOf(more) < LEAST_SHARE) return []
      return this.expand({ ...forced, [signal]: switched ? !before : before }, more)
    })
  }

  /** The sound machine notes its way; every other starts from there: near enough for most faults, and the same whatever was asked before. */
  private starts() {
    const { machine, setup, faults } = this
    const sound = faults.length === 0 && !setup.intervention
    if (sound) return { visit: (signals: string, across: Float64Array) => machine.noteSound(setup.state, signals, across) }
    return { starts: machine.soundStarts(setup.state) }
  }

  private unsettled(unsettled: Unsettled, conditions: readonly MarginCondition[]): Arrival {
    const { end } = this
    return { ...end, conditions: [...end.conditions, ...conditions], share: end.share * shareOf(conditions), unsettled }
  }

  private arrival(settled: Settled, conditions: readonly MarginCondition[]): Arrival {
    const arrival: Arrival = {
      conditions: [...this.end.conditions, ...conditions],
      discrete: settled.state,
      kept: keptAt(settled),
      blown: this.end.blown,
      share: this.end.share * shareOf(conditions),
      settled,
    }
    // Worked out only if a reading is asked for.
    Object.defineProperty(arrival, 'sense', { get: () => this.sense(settled), enumerable: false })
    return arrival
  }

  private sense(settled: Settled): Sense {
    let known = this.senses.get(settled)
    if (!known) {
      known = this.makeSense(settled)
      this.senses.set(settled, known)
    }
    return known
  }

  private makeSense(settled: Settled): Sense {
    const { machine, faults } = this
    this.changes ??= machine.realiser.latentChanges(this.realised)
    const changes = [...this.changes]
    const latents = changes.map((change) => change.latent)
    const scale = latents.map((latent) => machine.space.moments(latent).gain)
    const conditions = this.conditions()
    for (const sized of faults) {
      if (sized.severity === undefined || sized.sd === 0) continue
      const alive = conditions.faults.find((fault) => fault.part === sized.fault.part.name && fault.mode === sized.fault.mode.id)
      const kind = sized.fault.severity?.scale ?? 'log'
      const change =
        alive && machine.realiser.severityChange(this.realised, conditions, alive, kind === 'log' ? 1e-4 : sized.sd * 1e-3, kind)
      if (!change) continue
      changes.push(change)
      latents.push(machine.space.named(`size ${sized.fault.id}`))
      scale.push(sized.sd)
    }
    return {
      latents: Int32Array.from(latents),
      scale: Float64Array.from(scale),
      slopes: slopes(
        settled,
        changes.map((change) => change.change),
      ),
      changes,
    }
  }

  /** A part that more flows through than it can bear, and the mode it is in from now on. */
  private overloaded(settled: Settled): Fault | undefined {
    const { system } = this.machine
    for (const part of system.parts.values()) {
      if (!part.kind.overload || this.end.blown.some((fault) => fault.part === part.name)) continue
      const limit = this.realised.elementsOf.get(part.name)?.fragment.elements.length
        ? system.overloads.get(part.name)
        : undefined
      if (limit && Math.abs(flowOf(settled, `${part.name}:${limit.element}`)) > limit.limit)
        return { part: part.name, mode: limit.mode }
    }
    return undefined
  }

  /** The threshold nearest to switching the other way, in standard deviations, if any is within doubt. */
  private nearest(settled: Settled, forced: DiscreteState) {
    let best: { signal: string; before: boolean; mean: number; sensitivities: Sensitivities; distance: number } | undefined
    for (const signal of settled.circuit.signals) {
      if (signal.type !== 'threshold' || signal.id in forced || !couldSwitch(settled, signal)) continue
      const before = this.end.discrete[signal.id] ?? false
      const margin = this.margin(settled, signal, before, forced)
      if (margin && (!best || margin.distance < best.distance)) best = { signal: signal.id, before, ...margin }
    }
    return best && best.distance < DOUBT_SD ? best : undefined
  }

  /** Overdrive past switching away from `before`, with everything else at rest as it would be had it not switched. */
  private margin(settled: Settled, signal: Extract<Signal, { type: 'threshold' }>, before: boolean, forced: DiscreteState) {
    const switched = settled.state[signal.id] !== before
    const seen = switched
      ? settle(settled.circuit, {
          previous: this.end.discrete,
          forced: { ...forced, [signal.id]: before },
          start: settled.point.across,
        })
      : settled
    if (seen.status !== 'settled') return undefined
    const sense = seen === settled ? this.sense(settled) : this.sense(seen)
    const probe: Probe = { across: probeOf(signal) }
    const input = probeValue(seen, probe)
    const level = before ? signal.fall : signal.rise
    const sign = before ? -1 : 1
    const all = sensitivitiesOf(seen, sense, probe)
    sense.changes.forEach((change, i) => {
      const own = change.levels.find((one) => one.signal === signal.id)
      if (own) all[i] += (own.scale * (input / (signal.scale || 1)) - (before ? own.fall : own.rise)) * sense.scale[i]
    })
    const mean = sign * (input - level + this.machine.space.offset(sense.latents, all))
    const sensitivities = sparse(
      sense.latents,
      all.map((value) => sign * value),
    )
    const sd = norm(sensitivities)
    return { mean, sensitivities, distance: sd > 0 ? Math.abs(mean) / sd : Number.POSITIVE_INFINITY }
  }
}

const NOTHING_KEPT: ReadonlyMap<string, number> = new Map()

/** What fluid, thermal and turning nodes hold on to if the next step cuts them off. */
function keptAt({ circuit, point }: Settled): ReadonlyMap<string, number> {
  const { names, domains } = circuit
  if (!domains.some((domain, i) => domain !== 'electrical' && names[i] !== AIR_NODE)) return NOTHING_KEPT
  const kept = new Map<string, number>()
  for (let i = 0; i < names.length; i += 1) if (domains[i] !== 'electrical') kept.set(names[i], point.across[i])
  return kept
}

const probeOf = ({ a, b, scale }: Extract<Signal, { type: 'threshold' }>): Record<string, number> => ({ [a]: scale, [b]: -scale })

/** Rough reach beyond which no tolerance brings a threshold to its level; the exact margin is worked out only within it. */
function couldSwitch(settled: Settled, signal: Extract<Signal, { type: 'threshold' }>): boolean {
  const input = probeValue(settled, { across: probeOf(signal) })
  const domain = settled.circuit.domains[settled.circuit.index.get(signal.a) ?? 0]
  const reach = (level: number) =>
    domain === 'thermal' ? 25 : domain === 'gas' || domain === 'liquid' ? 2e5 : 0.4 * Math.abs(level) + 0.2
  return Math.abs(input - signal.rise) < reach(signal.rise) || Math.abs(input - signal.fall) < reach(signal.fall)
}

const shareOf = (conditions: readonly MarginCondition[]): number =>
  conditions.reduce((share, { mean, sensitivities, side }) => share * normalCdf((side * mean) / norm(sensitivities)), 1)
