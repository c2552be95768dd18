import type { Setup } from '@halfsplit/diagnosis'
import { compile, type DiscreteState, flowOf, NetworkError, type Settled, settle } from '@halfsplit/network'
import { type Conditions, type Fault, impose, labelView, type MeterLoad, Realiser, recipe, type System } from '@halfsplit/system'
import { asBuilt } from './draws.js'

/** A machine come to rest, or not: what the last step of a recipe left. */
export interface Rest {
  /** Missing where the machine found no rest. */
  settled?: Settled
  settings: ReadonlyMap<string, string | number>
  discrete: DiscreteState
  /** Pressures and temperatures by node. */
  kept: ReadonlyMap<string, number>
  /** What became of a like part that was tried in place of another: a new fuse blows as the old one did. */
  spare?: Fault
}

/** What is the matter in a setup, and how the machine was drawn. */
export interface Specimen {
  faults: readonly Fault[]
  draw: Float64Array
}

/**
 * Takes one drawn machine through recipes, a step for each state on the way, each settled in full from what the step before left
 * behind. What too much current opens stays open in `opened` until it is taken out of it.
 */
export class RecipeRunner {
  readonly opened = new Map<string, Fault>()
  readonly realiser: Realiser

  constructor(private readonly system: System) {
    this.realiser = new Realiser(system)
  }

  /** The machine as it comes to rest in a setup, from parked cold on. */
  run(setup: Setup, specimen: Specimen): Rest {
    const settings = new Map<string, string | number>(this.system.defaults)
    let rest: Rest = { settings, discrete: {}, kept: new Map() }
    for (const step of recipe(this.system, setup.state)) {
      impose(settings, step)
      rest = this.step({ settings: new Map(settings) }, rest, specimen)
    }
    if (!setup.intervention) return rest
    return this.step({ settings: rest.settings, intervention: setup.intervention }, rest, specimen)
  }

  /** The same rest with a meter's input put into the network. */
  withMeter(rest: Rest, setup: Setup, specimen: Specimen, meter: MeterLoad): Settled | undefined {
    if (!rest.settled) return undefined
    const { settings, discrete, kept, spare } = rest
    return this.settle({ settings, intervention: setup.intervention, kept, meter }, discrete, specimen, spare)
  }

  private step(conditions: Conditions, before: Rest, specimen: Specimen): Rest {
    const { settings } = conditions
    const swapped = swappedIn(conditions)
    let spare: Fault | undefined
    for (;;) {
      const settled = this.settle({ ...conditions, kept: before.kept }, before.discrete, specimen, spare)
      if (!settled) return { ...before, settings, settled: undefined, spare }
      const open = new Set(spare ? [...this.opened.keys(), spare.part] : this.opened.keys())
      if (!spare && swapped) open.delete(swapped)
      const gone = this.mostOverloaded(
        settled,
        settings,
        specimen.faults.filter(({ part }) => part !== swapped),
        open,
      )
      if (!gone) return { settled, settings, discrete: settled.state, kept: keptAt(settled, before.kept), spare }
      if (gone.part === swapped) spare = gone
      else this.opened.set(gone.part, gone)
    }
  }

  private settle(
    conditions: Conditions,
    previous: DiscreteState,
    { faults, draw }: Specimen,
    spare: Fault | undefined,
  ): Settled | undefined {
    const swapped = swappedIn(conditions)
    const own = [...faults.filter(({ part }) => !this.opened.has(part)), ...this.opened.values()]
    const now = own.filter(({ part }) => part !== swapped)
    try {
      const { network } = this.realiser.realise({ ...conditions, draw, faults: spare ? [...now, spare] : now })
      const settled = settle(compile({ ...network, signals: asBuilt(network.signals) }), { previous })
      return settled.status === 'settled' ? settled : undefined
    } catch (error) {
      // Two sources bolted together by a fault: no numbers, no rest.
      if (error instanceof NetworkError && error.code === 'SOURCES_CONFLICT') return undefined
      throw error
    }
  }

  /** The part that bears least of what flows through it opens first, and may save the others. */
  private mostOverloaded(
    settled: Settled,
    settings: ReadonlyMap<string, string | number>,
    faults: readonly Fault[],
    open: ReadonlySet<string>,
  ): Fault | undefined {
    let worst: { fault: Fault; times: number } | undefined
    for (const part of this.system.parts.values()) {
      if (open.has(part.name)) continue
      const fault = faults.find((one) => one.part === part.name)
      const overload = part.kind.overload?.(labelView(part, settings, fault))
      if (!overload) continue
      const times = Math.abs(flowThrough(settled, `${part.name}:${overload.element}`)) / overload.limit
      if (times > 1 && times > (worst?.times ?? 0)) worst = { fault: { part: part.name, mode: overload.mode }, times }
    }
    return worst?.fault
  }
}

const swappedIn = ({ intervention }: Conditions): string | undefined =>
  intervention?.do === 'swap' ? intervention.part : undefined

/** Nothing flows through a part that has been pulled out. */
export const flowThrough = (settled: Settled, element: string): number =>
  settled.circuit.network.elements.some(({ id }) => id === element) ? flowOf(settled, element) : 0

function keptAt({ circuit, point }: Settled, before: ReadonlyMap<string, number>): ReadonlyMap<string, number> {
  const kept = new Map(before)
  circuit.names.forEach((name, i) => {
    if (circuit.domains[i] !== 'electrical') kept.set(name, point.across[i])
  })
  return kept
}
