import type { System } from '@halfsplit/system'
import { minutesFor, type Standpoint } from '../effort.js'
import { type Setup, setupKey } from '../setup.js'

/** Setups and places as numbers, with the minutes between them. */
export class Positions {
  private readonly setups = new Map<string, { number: number; setup: Setup }>()
  private readonly places = new Map<string, { number: number; places: readonly string[] }>()

  constructor(private readonly system: System) {}

  stateOf(setup: Setup): number {
    const key = setupKey(setup)
    const known = this.setups.get(key) ?? { number: this.setups.size, setup }
    this.setups.set(key, known)
    return known.number
  }

  placeOf(places: readonly string[]): number {
    const key = [...places].sort().join('\n')
    const known = this.places.get(key) ?? { number: this.places.size, places }
    this.places.set(key, known)
    return known.number
  }

  at({ setup, places }: Standpoint): { state: number; place: number } {
    return { state: this.stateOf(setup), place: this.placeOf(places) }
  }

  /** Minutes from setup to setup, as `minutesFor` counts them. */
  changes(): number[][] {
    const all = [...this.setups.values()].map(({ setup }) => setup)
    return all.map((from) => all.map((to) => this.minutes(to, [], { setup: from, places: [] })))
  }

  /** Minutes from place to place. */
  ways(): number[][] {
    const setup = { state: this.system.states.keys().next().value as string }
    const all = [...this.places.values()].map(({ places }) => places)
    return all.map((from) => all.map((to) => this.minutes(setup, to, { setup, places: from })))
  }

  private minutes(setup: Setup, places: readonly string[], from: Standpoint): number {
    return minutesFor(this.system, { setup, places, minutes: 0 }, from)
  }
}
