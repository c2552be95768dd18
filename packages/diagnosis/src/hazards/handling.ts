import type { Hazard, HazardTitle } from '@halfsplit/kinds'
import type { System } from '@halfsplit/system'
import { ownerOf } from '../tests.js'
import type { Advised } from './setup-hazards.js'

/** How a part is handled: a hand or probe comes near, its plug is pulled or its terminal bridged, or it is taken out or its line opened. */
export type Way = 'near' | 'plugged' | 'opened'

/** Parts that are handled for a setup, by name. */
export type Handling = ReadonlyMap<string, Way>

const NEARNESS: Readonly<Record<Way, number>> = { near: 0, plugged: 1, opened: 2 }

/** From how close a hazard of a part matters to whoever handles it; what is not named here, when the part is opened. */
const MATTERS: Partial<Record<HazardTitle, Way>> = {
  hot: 'near',
  sparks: 'plugged',
  fire: 'plugged',
  'explosive gas': 'plugged',
  'starts by itself': 'plugged',
}

/** Whether a hazard matters to whoever handles its part in this way. */
export const concerns = ({ title }: Hazard, way: Way | undefined): boolean =>
  way !== undefined && NEARNESS[way] >= NEARNESS[MATTERS[title] ?? 'opened']

/** Parts that are handled to make a setup and take what is taken in it. */
export function handling(system: System, { setup: { intervention }, probe }: Advised): Handling {
  const ways = new Map<string, Way>()
  const add = (name: string, way: Way) => {
    const known = ways.get(name)
    if (system.parts.has(name) && (!known || NEARNESS[way] > NEARNESS[known])) ways.set(name, way)
  }
  const addPort = (port: string, way: Way) => add(ownerOf(system, port).name, way)
  if (intervention?.do === 'unplug') for (const name of intervention.parts) add(name, 'plugged')
  if (intervention?.do === 'swap') add(intervention.part, 'opened')
  if (intervention?.do === 'jumper') for (const port of [intervention.from, intervention.to]) addPort(port, 'plugged')
  if (probe?.kind === 'pressure') addPort(probe.at, 'opened')
  if (probe?.kind === 'volts') for (const port of [probe.red, probe.black]) addPort(port, 'near')
  if (probe?.kind === 'amps' || probe?.kind === 'ohms') add(probe.part, 'near')
  if (probe?.kind === 'look' && probe.look.by === 'technician') add(probe.part.name, 'near')
  return ways
}
