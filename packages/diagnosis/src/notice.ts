import type { Look } from '@halfsplit/kinds'
import type { Settled } from '@halfsplit/network'
import { labelView, type Part, probeOfPart, type State } from '@halfsplit/system'
import { asFault, type SizedFault } from './faults.js'
import type { Machine } from './machine.js'
import { valueAt, wordShares } from './predict.js'

/** Whether an operator would notice a fault in ordinary use: some look of his reads another word than on a sound machine. */
export class Notice {
  private readonly states: State[]
  private readonly looks: { part: Part; look: Look }[]
  private readonly sound: string[]

  constructor(private readonly machine: Machine) {
    this.states = [...machine.system.states.values()].filter((state) => !state.dead)
    this.looks = [...machine.system.parts.values()].flatMap((part) =>
      (part.kind.looks ?? []).filter((look) => look.by === 'operator').map((look) => ({ part, look })),
    )
    this.sound = this.states.map((state) => this.words([], state.name))
  }

  noticed(faults: readonly SizedFault[]): boolean {
    return this.states.some((state, i) => this.words(faults, state.name) !== this.sound[i])
  }

  /** The likeliest word of every look in a state, as one text. */
  private words(faults: readonly SizedFault[], state: string): string {
    const { machine } = this
    const arrival = machine.arrivePlain(faults, state)
    if (!arrival.settled) return 'unsteady'
    const { settled } = arrival
    return this.looks
      .map(({ part, look }) =>
        plainWord(
          machine,
          state,
          settled,
          { part, look },
          faults.find((one) => one.fault.part === part),
        ),
      )
      .join(',')
  }
}

/** The likeliest word of a look at a settled state, tolerances left aside. */
export function plainWord(
  machine: Machine,
  state: string,
  settled: Settled,
  { part, look }: { part: Part; look: Look },
  fault?: SizedFault,
): string {
  const quantity = look.quantity(labelView(part, machine.settingsIn(state), fault && asFault(fault)))
  const value =
    'signal' in quantity
      ? Number(settled.state[`${part.name}:${quantity.signal}`] ?? false)
      : valueAt(settled, probeOfPart(machine.system, part, quantity.probe)) * quantity.scale
  const shares = wordShares(look.levels, 'absolute' in quantity && quantity.absolute ? Math.abs(value) : value, 0)
  return look.words[shares.indexOf(Math.max(...shares))]
}
