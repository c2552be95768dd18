import type { DecisionTable } from '@halfsplit/diagnosis'
import { type PlanPlace, type SeenFault, type Testability, testability } from '@halfsplit/inference'
import { surest } from './choose-tests.js'
import type { AlikeRepairs, UnseenFault } from './model.js'

/** Told apart less surely than this is not told apart. */
const TELLS = 0.5
/** Blind spots named, heaviest first. */
const MOST_NAMED = 12

/** The suspect of a sound machine; -1 where the table has none. */
const soundOf = ({ suspects }: DecisionTable): number => suspects.findIndex(({ repairs }) => repairs.length === 0)

/** Suspects of one fault, with what each holds of it. */
function singles({ suspects }: DecisionTable) {
  const whole = new Map<string, number>()
  const found = suspects.flatMap(({ repairs, members }, suspect) =>
    repairs.length !== 1
      ? []
      : members.flatMap(({ faults, probability }) =>
          faults.length === 1 ? [{ suspect, fault: faults[0], probability, repair: repairs[0] }] : [],
        ),
  )
  for (const { fault, probability } of found) whole.set(fault, (whole.get(fault) ?? 0) + probability)
  return found.map((one) => ({ ...one, count: one.probability / (whole.get(one.fault) as number) }))
}

/**
 * Detection and isolation by the plan: the signature of a fault is the place of the plan that it comes to by its likeliest outcomes, at the
 * first repair or end. It is detected unless a sound machine comes to the same place.
 */
export function coverageOfPlan(table: DecisionTable, root: PlanPlace): Testability {
  const numbers = new Map<PlanPlace, number>()
  const leafOf = (suspect: number): PlanPlace => {
    let place = root
    while (place.step.kind === 'test' && !place.isRest) place = likeliestNext(table, place, suspect)
    if (!numbers.has(place)) numbers.set(place, numbers.size)
    return place
  }
  const sound = soundOf(table)
  const soundLeaf = sound < 0 ? undefined : leafOf(sound)
  return testability(
    singles(table).map(({ suspect, probability, repair, count }): SeenFault => {
      const leaf = leafOf(suspect)
      return {
        unit: repair,
        rate: probability,
        count,
        signature: String(numbers.get(leaf)),
        isDetected: leaf !== soundLeaf && leaf.step.kind !== 'end',
      }
    }),
  )
}

function likeliestNext({ task }: DecisionTable, place: PlanPlace, suspect: number): PlanPlace {
  const { step } = place
  const { outcomes, chances } = task.tests.find(({ id }) => step.kind === 'test' && id === step.id) as (typeof task.tests)[number]
  const chance = (outcome: number) => chances[suspect * outcomes + outcome]
  return place.branches.reduce((best, one) => (chance(one.outcome) > chance(best.outcome) ? one : best)).node
}

/** The same if every test of the table were taken: two suspects are one group while a chain of pairs that no test tells apart joins them. */
export function coverageOfAll(table: DecisionTable): Testability {
  const list = singles(table)
  const sound = soundOf(table)
  const group = new Map(list.map(({ suspect }) => [suspect, suspect]))
  const rootOf = (suspect: number): number => {
    const up = group.get(suspect) as number
    return up === suspect ? suspect : rootOf(up)
  }
  const suspects = [...group.keys()]
  for (const [i, one] of suspects.entries())
    for (const other of suspects.slice(i + 1)) if (surest(table, one, other) < TELLS) group.set(rootOf(other), rootOf(one))
  return testability(
    list.map(({ suspect, probability, repair, count }) => ({
      unit: repair,
      rate: probability,
      count,
      signature: String(rootOf(suspect)),
      isDetected: sound < 0 || surest(table, suspect, sound) >= TELLS,
    })),
  )
}

/** Faults that no test tells from a sound machine in some size of theirs, heaviest first, with the share of those sizes. */
export function unseenFaults(table: DecisionTable): UnseenFault[] {
  const sound = soundOf(table)
  if (sound < 0) return []
  const total = table.suspects.reduce((sum, { probability }) => sum + probability, 0)
  const found = new Map<string, UnseenFault>()
  for (const { suspect, fault, repair, probability } of singles(table)) {
    const best = surest(table, suspect, sound)
    if (best >= TELLS) continue
    const known = found.get(fault)
    found.set(fault, {
      fault,
      repair,
      share: probability / total + (known?.share ?? 0),
      best: Math.max(best, known?.best ?? 0),
    })
  }
  return [...found.values()].sort((p, q) => q.share - p.share || (p.fault < q.fault ? -1 : 1)).slice(0, MOST_NAMED)
}

/** Pairs of repairs that no test tells apart in some size of theirs, by the lighter of the two, heaviest first. */
export function alikeRepairs(table: DecisionTable): AlikeRepairs[] {
  const { suspects } = table
  const total = suspects.reduce((sum, { probability }) => sum + probability, 0)
  const found = new Map<string, AlikeRepairs>()
  for (const [i, one] of suspects.entries())
    for (const [k, other] of suspects.slice(i + 1).entries()) {
      if (one.repairs.length !== 1 || other.repairs.length !== 1 || one.repairs[0] === other.repairs[0]) continue
      const best = surest(table, i, i + 1 + k)
      if (best >= TELLS) continue
      const repairs = [one.repairs[0], other.repairs[0]].sort() as [string, string]
      const share = Math.min(one.probability, other.probability) / total
      const known = found.get(repairs.join('\n'))
      if (!known || known.share < share) found.set(repairs.join('\n'), { repairs, share, best })
    }
  return [...found.values()]
    .sort((p, q) => q.share - p.share || (p.repairs.join() < q.repairs.join() ? -1 : 1))
    .slice(0, MOST_NAMED)
}
