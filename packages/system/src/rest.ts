import { compile, type DiscreteState, flowOf, NetworkError, type Settled, settle, type Unsettled } from '@halfsplit/network'
import { AIR_NODE } from './fragment.js'
import type { Fault, Intervention, System } from './model.js'
import { labelView } from './own-names.js'
import { impose, type Realiser, recipe } from './realise.js'

/** A machine come to rest at the end of one step of a recipe. */
export interface Rest {
  /** What was done to it for a test, at the last step of all. */
  intervention?: Intervention
  /** State this step leads into. */
  state: string
  settings: ReadonlyMap<string, string | number>
  /** What is the matter with it by now: parts that opened for good on the way among them. */
  faults: readonly Fault[]
  settled: Settled
  /** What the machine remembered before this step. */
  before: DiscreteState
}

/** A machine that finds no rest on its way, and in which state. */
export interface NoRest {
  state: string
  unsettled: Unsettled
}

/**
 * The machine in the middle of all its tolerances, followed at rest through the recipe of a state; what more flows through than it can
 * bear opens for good, the part that bears least of its flow first.
 * @param faults at most one a part   @param intervention done in that state, as one more step   @returns a rest for each step, or where it finds none
 * Cost: a settling a step, and one more for each part that opens.  Checked in rest.test.ts.
 */
export function restsOnTheWay(
  realiser: Realiser,
  state: string,
  faults: readonly Fault[] = [],
  intervention?: Intervention,
): Rest[] | NoRest {
  const { system } = realiser
  const names = lineage(system, state)
  const settings = new Map<string, string | number>(system.defaults)
  const rests: Rest[] = []
  for (const [i, step] of recipe(system, state).entries()) {
    impose(settings, step)
    const rest = restAfter(realiser, names[i], new Map(settings), rests.at(-1), faults)
    if ('unsettled' in rest) return rest
    rests.push(rest)
  }
  if (!intervention) return rests
  const last = restAfter(realiser, state, new Map(settings), rests.at(-1), faults, intervention)
  return 'unsettled' in last ? last : [...rests, last]
}

/** States a recipe goes through, the last one its own. */
function lineage(system: System, state: string): string[] {
  const names: string[] = []
  for (let name: string | undefined = state; name !== undefined; name = system.states.get(name)?.from) names.unshift(name)
  return names
}

function restAfter(
  realiser: Realiser,
  state: string,
  settings: ReadonlyMap<string, string | number>,
  last: Rest | undefined,
  first: readonly Fault[],
  intervention?: Intervention,
): Rest | NoRest {
  const before = last?.settled.state ?? {}
  const kept = last && keptAt(last.settled)
  let faults = last?.faults ?? first
  for (;;) {
    const settled = settleSafely(() => compile(realiser.realise({ settings, faults, kept, intervention }).network), before)
    if (settled.status !== 'settled') return { state, unsettled: settled }
    const gone = overloaded(realiser.system, settled, settings, faults)
    if (!gone) return { state, settings, faults, settled, before, ...(intervention && { intervention }) }
    faults = [...faults.filter(({ part }) => part !== gone.part), gone]
  }
}

/** Two sources bolted together by a fault leave no numbers. */
function settleSafely(circuit: () => ReturnType<typeof compile>, previous: DiscreteState): Settled | Unsettled {
  try {
    return settle(circuit(), { previous })
  } catch (error) {
    if (!(error instanceof NetworkError && error.code === 'SOURCES_CONFLICT')) throw error
    return { status: 'no convergence', parts: error.elements, node: '', residual: 0, iterations: 0 }
  }
}

/** The part that most exceeds what it can bear, and the mode it is in from now on. */
function overloaded(
  system: System,
  settled: Settled,
  settings: ReadonlyMap<string, string | number>,
  faults: readonly Fault[],
): Fault | undefined {
  let worst: { fault: Fault; times: number } | undefined
  for (const part of system.parts.values()) {
    const fault = faults.find((one) => one.part === part.name)
    const limit = part.kind.overload?.(labelView(part, settings, fault))
    if (!limit || fault?.mode === limit.mode) continue
    const times = Math.abs(flowOf(settled, `${part.name}:${limit.element}`)) / limit.limit
    if (times > 1 && times > (worst?.times ?? 0)) worst = { fault: { part: part.name, mode: limit.mode }, times }
  }
  return worst?.fault
}

/** Pressures, temperatures and speeds that closed-off nodes hold on to. */
export function keptAt({ circuit, point }: Settled): ReadonlyMap<string, number> {
  const kept = new Map<string, number>()
  circuit.names.forEach((name, i) => {
    if (circuit.domains[i] !== 'electrical' && name !== AIR_NODE) kept.set(name, point.across[i])
  })
  return kept
}
