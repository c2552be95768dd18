import { ASSUMPTIONS, normalQuantile } from '@halfsplit/core'
import type { Branch, MarginCondition } from '@halfsplit/inference'
import type { Done } from './evidence.js'
import type { SizedFault } from './faults.js'
import type { LatentSpace } from './latent-space.js'
import { presentUnder } from './provoke.js'

/** One way a hypothesis may have fared up to a segment of the log: the faults still there, and what must hold for it. */
export interface Course {
  faults: readonly SizedFault[]
  conditions: readonly MarginCondition[]
}

/**
 * How a hypothesis' faults fare through the actions before a segment. A repair takes away what it cures, but for a new part that
 * is dead or wrongly fitted; disturbing a contact may cure it for now. Each such chance is a latent of its own, so that all
 * later readings share its outcome. An intermittent fault is there or not at each setup anew, likelier so while its part is shaken.
 */
export function courses(
  faults: readonly SizedFault[],
  actions: readonly Done[],
  segment: number,
  space: LatentSpace,
  presentShare: number = ASSUMPTIONS.intermittentPresent,
): Course[] {
  if (segment === 0 && !faults.some(({ fault }) => fault.mode.intermittent)) return [{ faults, conditions: [] }]
  const before = segment > 0 ? actions[segment - 1] : undefined
  const provoked = before?.kind === 'disturbed' && before.provoked ? [before.provoked] : []
  let found: Course[] = [{ faults: [], conditions: [] }]
  for (const fault of faults) {
    const gone = goneChances(fault, actions.slice(0, segment))
    const present = presentUnder(fault.fault, provoked, presentShare)
    found = found.flatMap((course) => fates(course, fault, gone, space, present))
  }
  return found
}

/** The chances, in order, that an action took the fault away, each with a name for its latent. */
function goneChances({ fault }: SizedFault, actions: readonly Done[]): { name: string; share: number }[] {
  const found: { name: string; share: number }[] = []
  actions.forEach((action, n) => {
    if (action.kind === 'repaired' && action.repairs.includes(fault.repair)) {
      found.push({ name: `cure ${n} ${fault.repair}`, share: 1 - ASSUMPTIONS.badNewPart })
    } else if (
      action.kind === 'disturbed' &&
      disturbs(action.parts, fault.part.name, fault.part.connector?.name) &&
      isContact(fault.mode.id)
    ) {
      found.push({ name: `disturbed ${n} ${fault.part.name}`, share: ASSUMPTIONS.disturbedCures })
    }
  })
  return found
}

const disturbs = (parts: readonly string[], part: string, connector?: string): boolean =>
  parts.includes(part) || (connector !== undefined && parts.includes(connector))

/** Modes that wiping a contact can cure for now. */
const isContact = (mode: string): boolean => /contact|high_resistance|intermittent|socket/.test(mode)

function fates(
  course: Course,
  fault: SizedFault,
  gone: readonly { name: string; share: number }[],
  space: LatentSpace,
  presentShare: number,
): Course[] {
  const still: MarginCondition[] = []
  const ways: Course[] = []
  for (const { name, share } of gone) {
    const margin = (side: 1 | -1): MarginCondition => ({ ...space.chance(name, share), side })
    ways.push({ faults: course.faults, conditions: [...course.conditions, ...still, margin(1)] })
    still.push(margin(-1))
  }
  const present: Course = { faults: [...course.faults, fault], conditions: [...course.conditions, ...still] }
  if (!fault.fault.mode.intermittent) return [...ways, present]
  return [
    ...ways,
    { ...present, conditions: [...present.conditions, chance(presentShare, true)] },
    { faults: course.faults, conditions: [...course.conditions, ...still, chance(presentShare, false)] },
  ]
}

/** Branches of a course: what must hold for the course and what must hold for the branch. */
export const underCourse = ({ conditions }: Course, branches: readonly Branch[]): readonly Branch[] =>
  conditions.length === 0
    ? branches
    : branches.map((branch) => ({ ...branch, conditions: [...conditions, ...branch.conditions] }))

/** A condition that holds with a given probability and shares nothing: an intermittent fault present at a look. */
const chance = (probability: number, happens: boolean): MarginCondition => ({
  mean: normalQuantile(probability),
  sensitivities: { index: [], value: [] },
  freshSd: 1,
  side: happens ? 1 : -1,
})
