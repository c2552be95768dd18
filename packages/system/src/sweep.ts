import {
  type CampaignCounts,
  campaign,
  type Circuit,
  compile,
  evaluate,
  type NetworkFault,
  type Outcome,
} from '@halfsplit/network'
import { labelView } from './own-names.js'
import type { Fault, Intervention, System } from './model.js'
import type { Realised, Realiser } from './realise.js'
import { keptAt, type NoRest, type Rest, restsOnTheWay } from './rest.js'

/** What a machine is looked at in: a state, and what is done to it there. */
export interface SweptSetup {
  state: string
  intervention?: Intervention
}

/** How one case ended: `across` and `bits` by the nodes and signals of `names` and `signals`, overwritten by the next: copy what must last. */
export interface SweptOutcome {
  outcome: Outcome
  names: readonly string[]
  signals: readonly string[]
}

export interface SweepCounts {
  /** Cases whose way into the setup left nothing behind that the sound machine's does not: solved together in a campaign. */
  together: number
  /** Of these, those that the campaign followed by path. */
  byPath: number
  /** Cases that went their own way: a latch, a blown fuse, trapped pressure, a part made otherwise. */
  alone: number
}

/** Pressures, temperatures and speeds within this share, or this much [SI], of the sound machine's leave nothing of their own behind. */
const SAME_SHARE = 1e-9
const SAME = 1e-9

/**
 * Every case of faults in one setup, each as `restsOnTheWay` finds it: the recipe is followed under each, step by step. Cases that have left
 * nothing of their own behind are solved together from the sound machine, the others each by themselves.
 * @param cases one fault, or a pair in two parts   @param visit is told each case's end, in no order
 * @returns counts, or where the sound machine finds no rest
 * Checked against `restsOnTheWay` in tests/system/sweep.test.ts.
 */
export function sweep(
  realiser: Realiser,
  { state, intervention }: SweptSetup,
  cases: readonly (readonly Fault[])[],
  visit: (swept: SweptOutcome, index: number) => void,
): SweepCounts | NoRest {
  const way = restsOnTheWay(realiser, state, [], intervention)
  if (!Array.isArray(way)) return way
  let along = cases.map((_, i) => i).filter((i) => cases[i].every((fault) => bears(realiser.system, fault)))
  const alone = new Set(cases.keys())
  let byPath = 0
  way.forEach((rest, n) => {
    const step = new SweepStep(realiser, rest, way[n - 1])
    const last = n === way.length - 1
    const stay: number[] = []
    const counts = step.solve(along, cases, (outcome, i) => {
      const calm = !step.overloads(outcome)
      if (calm && last) visit({ outcome, names: step.circuit.names, signals: step.signals }, i)
      if (calm && (last || step.leavesNothing(outcome))) stay.push(i)
    })
    along = stay
    if (last) byPath = counts.byPath
  })
  for (const i of along) alone.delete(i)
  for (const i of alone) visit(byItself(realiser, { state, intervention }, cases[i]), i)
  return { together: along.length, byPath, alone: alone.size }
}

/** A fault in a part that can open by overload changes what it bears: such a case goes its own way. */
function bears({ parts }: System, { part }: Fault): boolean {
  return parts.get(part)?.kind.overload === undefined
}

function byItself(realiser: Realiser, { state, intervention }: SweptSetup, faults: readonly Fault[]): SweptOutcome {
  const rests = restsOnTheWay(realiser, state, faults, intervention)
  if (!Array.isArray(rests)) return { outcome: rests.unsettled, names: [], signals: [] }
  const { circuit, point, bits } = rests[rests.length - 1].settled
  const signals = circuit.signals.map(({ id }) => id)
  return { outcome: { status: 'settled', across: point.across, bits }, names: circuit.names, signals }
}

/** One step of the sound machine's way, from where it stood before. */
class SweepStep {
  readonly circuit: Circuit
  readonly signals: readonly string[]
  private readonly realised: Realised
  private readonly conditions
  /** What opens for good, by the ends of the element whose flow counts. */
  private readonly limits: { a: number; b: number; position: number; limit: number }[] = []

  constructor(
    private readonly realiser: Realiser,
    private readonly rest: Rest,
    before: Rest | undefined,
  ) {
    const { settings, faults, intervention } = rest
    this.conditions = { settings, faults, intervention, kept: before && keptAt(before.settled) }
    this.realised = realiser.realise(this.conditions)
    this.circuit = compile(this.realised.network)
    this.signals = this.circuit.signals.map(({ id }) => id)
    for (const part of realiser.system.parts.values()) this.addLimit(part.name)
  }

  private addLimit(name: string): void {
    const part = this.realiser.system.parts.get(name)
    const limit = part?.kind.overload?.(labelView(part, this.rest.settings))
    const { elements } = this.realised.network
    const position = elements.findIndex(({ id }) => id === `${name}:${limit?.element}`)
    const element = elements[position]
    if (!limit || element?.type !== 'law') return
    const [a, b] = [element.a, element.b].map((node) => this.circuit.index.get(node) as number)
    this.limits.push({ a, b, position, limit: limit.limit })
  }

  solve(
    along: readonly number[],
    cases: readonly (readonly Fault[])[],
    visit: (outcome: Outcome, i: number) => void,
  ): CampaignCounts {
    const faults: NetworkFault[] = []
    const places: number[] = []
    for (const i of along) {
      const fault = this.realiser.networkFault(this.realised, this.conditions, String(i), cases[i])
      if (!fault) continue
      faults.push(fault)
      places.push(i)
    }
    return campaign(this.circuit, faults, {
      previous: this.rest.before,
      visit: (outcome, _, n) => visit(outcome, places[n]),
    })
  }

  /** Whether something opens for good. */
  overloads(outcome: Outcome): boolean {
    if (outcome.status !== 'settled') return false
    return this.limits.some(({ a, b, position, limit }) => {
      const element = this.realised.network.elements[position]
      const flow = element.type === 'law' ? evaluate(element.law, outcome.across[a], outcome.across[b]).f : 0
      return Math.abs(flow) > limit
    })
  }

  /** Whether the next step finds the machine as if it were sound: the same signals, and the same held in what is closed off. */
  leavesNothing(outcome: Outcome): boolean {
    if (outcome.status !== 'settled') return false
    const { bits, point } = this.rest.settled
    if (!bits.every((bit, i) => bit === outcome.bits[i])) return false
    return this.circuit.domains.every((domain, i) => {
      if (domain === 'electrical') return true
      const sound = point.across[i]
      return Math.abs(outcome.across[i] - sound) <= SAME + SAME_SHARE * Math.abs(sound)
    })
  }
}
