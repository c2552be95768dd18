import { HAZARDS } from '@halfsplit/kinds'
import { type Part, portName, type System } from '@halfsplit/system'
import type { Setup } from '../setup.js'
import type { HazardStudy } from './study.js'

/** A protection that a setup takes out of action. */
export interface LostGuard {
  part: Part
  /** What it protects from, in the description's words. */
  guards: string
  /** It is bridged or unplugged itself, or the machine now does without asking it. */
  how: 'bridged' | 'unplugged' | 'by-passed'
}

/**
 * Protections that are out of action in a setup. Unplugged or bridged ones follow from the wiring. Beyond them, a jumper by-passes a
 * protection if something moves or starts with it in the sound machine though the protecting part is taken out, which in the machine's
 * own states does not without that part.
 */
export function lostGuards(system: System, study: HazardStudy, setup: Setup): LostGuard[] {
  const { intervention } = setup
  if (!intervention) return []
  return [...system.parts.values()].flatMap((part) => {
    if (part.guards === undefined) return []
    const how =
      hit(system, setup, part) ?? (intervention.do === 'jumper' && passes(system, study, setup, part) ? 'by-passed' : undefined)
    return how ? [{ part, guards: part.guards, how }] : []
  })
}

function hit(system: System, { intervention }: Setup, part: Part): LostGuard['how'] | undefined {
  const nodes = electricalNodes(system, part)
  if (intervention?.do === 'jumper') {
    const ends = [intervention.from, intervention.to].map((port) => system.nodeOf.get(port))
    return ends.every((node) => node !== undefined && nodes.has(node)) ? 'bridged' : undefined
  }
  if (intervention?.do !== 'unplug') return undefined
  if (intervention.parts.includes(part.name)) return 'unplugged'
  const pins = [...system.parts.values()].filter(({ connector }) => connector && intervention.parts.includes(connector.name))
  const meets = pins.some((pin) => [...electricalNodes(system, pin)].some((node) => node !== '0' && nodes.has(node)))
  return meets ? 'unplugged' : undefined
}

const electricalNodes = (system: System, part: Part): Set<string | undefined> =>
  new Set(
    part.kind.ports.filter(({ domain }) => domain === 'electrical').map(({ name }) => system.nodeOf.get(portName(part, name))),
  )

function passes(system: System, study: HazardStudy, setup: Setup, { name }: Part): boolean {
  const jumpered = study.moment([], setup, { without: name })
  const plain = study.moment([], { state: setup.state }, { without: name })
  const begun = study.points.flatMap(({ hazard }, i) =>
    HAZARDS[hazard.title].reach === 'machine' && jumpered?.present.has(i) && !plain?.present.has(i) ? [i] : [],
  )
  return begun.length > 0 && [...system.states.keys()].some((state) => holdsBack(study, state, name, begun))
}

/** In this state one of the hazards is there, and not without the part. */
function holdsBack(study: HazardStudy, state: string, name: string, hazards: readonly number[]): boolean {
  const there = hazards.filter((i) => study.moment([], { state })?.present.has(i))
  if (there.length === 0) return false
  const without = study.moment([], { state }, { without: name })
  return without !== undefined && there.some((i) => !without.present.has(i))
}
