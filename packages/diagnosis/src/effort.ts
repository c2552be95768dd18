import type { System } from '@halfsplit/system'
import { type Setup, setupKey } from './setup.js'
import type { Test } from './tests.js'

/** Where the technician stands: the machine's setup, and the place he is at. */
export interface Standpoint {
  setup: Setup
  places: readonly string[]
}

const UNPLUG_MINUTES = 1.5
const JUMPER_MINUTES = 2
const SWAP_MINUTES = 3
/** Going back from a state takes this share of the minutes it took to get there (cooling, bleeding, switching off). */
const WAY_BACK = 0.5

/** Minutes from where the technician stands to the end of a test: change of state, what is plugged, the way there, the test. */
export function minutesFor(system: System, test: Pick<Test, 'setup' | 'places' | 'minutes'>, from: Standpoint): number {
  const there = test.places.filter((place) => !from.places.includes(place))
  const way = there.reduce((sum, place) => sum + (system.places.get(place)?.minutes ?? 0), 0)
  return stateMinutes(system, from.setup.state, test.setup.state) + toolMinutes(test.setup, from.setup) + way + test.minutes
}

function toolMinutes(to: Setup, from: Setup): number {
  const same = to.state === from.state && setupKey(to) === setupKey(from)
  if (same) return 0
  return handling(to) + (from.intervention ? handling(from) / 2 : 0)
}

function handling({ intervention }: Setup): number {
  if (!intervention) return 0
  if (intervention.do === 'unplug') return UNPLUG_MINUTES * intervention.parts.length
  return intervention.do === 'jumper' ? JUMPER_MINUTES : SWAP_MINUTES
}

/** Minutes from one state to another along their recipes. */
export function stateMinutes(system: System, from: string, to: string): number {
  const up = lineage(system, from)
  const down = lineage(system, to)
  const shared = new Set(up.filter((name) => down.includes(name)))
  const minutes = (names: readonly string[]) =>
    names.filter((name) => !shared.has(name)).reduce((sum, name) => sum + (system.states.get(name)?.minutes ?? 0), 0)
  return minutes(down) + WAY_BACK * minutes(up)
}

function lineage(system: System, state: string): string[] {
  const names: string[] = []
  for (let name: string | undefined = state; name !== undefined && !names.includes(name); name = system.states.get(name)?.from)
    names.push(name)
  return names
}
