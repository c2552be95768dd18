import { probeValue } from '@halfsplit/network'
import { nodeAt } from '@halfsplit/system'
import type { Arrival, Machine } from './machine.js'
import { type Setup, setupKey } from './setup.js'
import { plainWord } from './notice.js'
import type { Test } from './tests.js'

/** States kept for one probe: those in which a sound machine has most to show there. */
const STATES_KEPT = 2
/** Readings on a sound machine closer than this share of the supply are one signature. */
const SAME_SHARE = 0.02

/**
 * Leaves out tests that others dominate: of one probe in many states, those stay whose reading on a sound machine is largest
 * and differs; a jumper or a swapped part is only watched at looks that change when the part is missing.
 */
export class Worth {
  private readonly sound = new Map<string, Arrival | undefined>()

  constructor(private readonly machine: Machine) {}

  kept(tests: readonly Test[]): Test[] {
    const byProbe = new Map<string, Test[]>()
    const kept: Test[] = []
    for (const test of tests) {
      if (test.probe.kind === 'ohms' || (test.probe.kind === 'look' && !test.setup.intervention)) kept.push(test)
      else if (test.probe.kind === 'look') {
        if (this.shows(test)) kept.push(test)
      } else {
        const key = test.id.slice(test.setup.state.length)
        byProbe.set(key, [...(byProbe.get(key) ?? []), test])
      }
    }
    for (const same of byProbe.values()) kept.push(...this.telling(same))
    return kept
  }

  private arrive(setup: Setup): Arrival | undefined {
    const key = setupKey(setup)
    if (!this.sound.has(key)) this.sound.set(key, this.machine.arrive([], setup)[0])
    return this.sound.get(key)
  }

  /** The states of one probe with most to show, largest first, one for each distinct reading. */
  private telling(tests: readonly Test[]): Test[] {
    const valued = tests.map((test) => ({ test, value: this.value(test) }))
    const most = Math.max(...valued.map(({ value }) => Math.abs(value)))
    valued.sort((p, q) => Math.abs(q.value) - Math.abs(p.value) || (p.test.id < q.test.id ? -1 : 1))
    const found: typeof valued = []
    for (const one of valued) {
      const known = found.some(({ value }) => Math.abs(value - one.value) <= SAME_SHARE * most)
      if (!known && found.length < STATES_KEPT) found.push(one)
    }
    return found.map(({ test }) => test)
  }

  private value({ setup, probe }: Test): number {
    const settled = this.arrive(setup)?.settled
    if (!settled || probe.kind === 'look' || probe.kind === 'ohms') return 0
    const { system } = this.machine
    if (probe.kind === 'amps') return probeValue(settled, { through: `${probe.part}:${probe.element}` })
    if (probe.kind === 'pressure') return probeValue(settled, { across: { [nodeAt(system, probe.at)]: 1 } })
    const red = nodeAt(system, probe.red)
    const black = nodeAt(system, probe.black)
    return red === black ? 0 : probeValue(settled, { across: { [red]: 1, [black]: -1 } })
  }

  /** A jumper or a swap is worth watching at a look that reads another word when the part is missing from a sound machine. */
  private shows({ setup, probe }: Test): boolean {
    const { intervention, state } = setup
    if (probe.kind !== 'look' || !intervention || intervention.do === 'unplug') return true
    const part = intervention.do === 'swap' ? intervention.part : partOf(intervention.from)
    const whole = this.arrive({ state })?.settled
    const missing = this.arrive({ state, intervention: { do: 'unplug', parts: [part] } })?.settled
    if (!whole || !missing) return false
    return plainWord(this.machine, state, whole, probe) !== plainWord(this.machine, state, missing, probe)
  }
}

const partOf = (port: string): string => port.slice(0, Math.max(port.lastIndexOf('/'), port.lastIndexOf('.')))
