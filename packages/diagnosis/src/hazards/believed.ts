import { ASSUMPTIONS } from '@halfsplit/core'
import { Consequences } from '../consequences.js'
import type { SizedFault } from '../faults.js'
import type { Machine } from '../machine.js'
import type { Bench } from '../bench.js'
import type { Standing } from '../view.js'

/** Faults still believed, at their likeliest size, with what they opened for good. */
export interface Believed {
  faults: readonly SizedFault[]
  /** Repairs that cure them; none for the sound machine. */
  repairs: readonly string[]
  probability: number
}

/** The likeliest of what is still believed, heaviest first, and the share of the belief that they hold. */
export interface BelievedFaults {
  cases: readonly Believed[]
  followed: number
}

/** What hazards ask of a bench, and of what is believed. */
export type HazardBench = Pick<Bench, 'machine' | 'system'>
export type HazardStanding = Pick<Standing, 'hypotheses' | 'sized' | 'actions' | 'groups' | 'complaint'> & {
  belief: Pick<Standing['belief'], 'probability' | 'cellProbability'>
}

const known = new WeakMap<HazardStanding, BelievedFaults>()

/** The sound machine counts always: what it does in a setup is what the technician must reckon with first. */
export function believedFaults(machine: Machine, standing: HazardStanding): BelievedFaults {
  let found = known.get(standing)
  if (!found) {
    found = likeliest(machine, standing)
    known.set(standing, found)
  }
  return found
}

function likeliest(machine: Machine, standing: HazardStanding): BelievedFaults {
  const { belief, hypotheses, actions, complaint } = standing
  const repaired = new Set(actions.flatMap((action) => (action.kind === 'repaired' ? action.repairs : [])))
  const consequences = new Consequences(machine)
  const sizes = likeliestSizes(standing)
  const ranked = hypotheses
    .map((_, h) => ({ faults: sizes[h]?.filter(({ fault }) => !repaired.has(fault.repair)), h }))
    .sort((p, q) => belief.probability[q.h] - belief.probability[p.h] || p.h - q.h)
  const sound = { faults: [], repairs: [], probability: 0 }
  const cases: Believed[] = []
  let followed = 0
  for (const { faults, h } of ranked) {
    if (cases.length >= ASSUMPTIONS.hazardHypotheses || followed >= ASSUMPTIONS.hazardShare) break
    if (!faults) continue
    const probability = belief.probability[h]
    followed += probability
    if (faults.length === 0) sound.probability += probability
    else
      cases.push({
        faults: consequences.added(faults, complaint, actions),
        repairs: faults.map(({ fault }) => fault.repair),
        probability,
      })
  }
  return { cases: [sound, ...cases], followed }
}

/** Of each hypothesis the size that is believed most. */
function likeliestSizes({ sized, belief, hypotheses }: HazardStanding): (readonly SizedFault[] | undefined)[] {
  const best = hypotheses.map(() => -1)
  sized.forEach(({ hypothesis }, cell) => {
    const known = best[hypothesis]
    if (known < 0 || belief.cellProbability[cell] > belief.cellProbability[known]) best[hypothesis] = cell
  })
  return best.map((cell) => (cell < 0 ? undefined : sized[cell].faults))
}
