import {
  type FaultMode,
  faultModes,
  Machine,
  PredictionStore,
  type SizedFault,
  sized,
  stretches,
  type TestProbe,
} from '@halfsplit/diagnosis'
import type { System } from '@halfsplit/system'
import { healthy } from './readings.js'

/** A look that reads another word than on a sound machine. */
export interface Change {
  state: string
  /** `PART.look` */
  look: string
  from: string
  to: string
  byOperator: boolean
}

export interface FaultEffect {
  fault: FaultMode
  /** Changes at each size looked at [SI], smallest first; one entry without a size for a fault that has none. */
  sizes: readonly { size: number | undefined; changes: readonly Change[] }[]
  /** Failures of this sort per year. */
  ratePerYear: number
  /** An operator would notice it at its largest size. */
  noticed: boolean
}

type LookProbe = Extract<TestProbe, { kind: 'look' }>

/** Every failure mode of a machine and what of it can be seen, heard or felt, in every state with power. */
export function faultEffects(system: System): FaultEffect[] {
  const machine = new Machine(system)
  const looks = new Looks(system, new PredictionStore(machine))
  return faultModes(system, { byHand: true }).map((fault) => {
    const all = stretches(fault.severity)
    const chosen = [...new Set([0, Math.floor(all.length / 2), all.length - 1])].map((i) => all[i])
    const sizes = chosen.map((stretch) => {
      const one = sized(fault, stretch)
      return { size: one.severity, changes: looks.changes(one) }
    })
    const last = sizes[sizes.length - 1]
    return { fault, sizes, ratePerYear: fault.rate, noticed: last.changes.some((change) => change.byOperator) }
  })
}

class Looks {
  private readonly states: string[]
  private readonly probes: LookProbe[]
  private readonly sound: ReadonlyMap<string, readonly string[]>

  constructor(
    system: System,
    private readonly store: PredictionStore,
  ) {
    this.states = [...system.states.values()].filter((state) => !state.dead).map((state) => state.name)
    this.probes = [...system.parts.values()].flatMap((part) =>
      (part.kind.looks ?? []).map((look): LookProbe => ({ kind: 'look', part, look })),
    )
    this.sound = new Map(this.states.map((state) => [state, this.words([], state)]))
  }

  changes(fault: SizedFault): Change[] {
    return this.states.flatMap((state) => {
      const sound = this.sound.get(state) as readonly string[]
      return this.words([fault], state).flatMap((to, i) => {
        const { part, look } = this.probes[i]
        const change = { state, look: `${part.name}.${look.name}`, from: sound[i], to, byOperator: look.by === 'operator' }
        return to === sound[i] ? [] : [change]
      })
    })
  }

  /** The likeliest word of every look. */
  private words(faults: readonly SizedFault[], state: string): string[] {
    const branches = this.store.get(faults, { state }, this.probes)
    return this.probes.map(({ look }, i) => {
      const { words } = healthy(branches.map((branch) => ({ ...branch, predictions: [branch.predictions[i]] })))
      return look.words[words.indexOf(Math.max(...words))]
    })
  }
}
