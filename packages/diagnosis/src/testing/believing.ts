import type { HazardStanding } from '../hazards/index.js'
import type { SizedFault } from '../faults.js'
import { nothingWrong } from '../hypotheses.js'

/** A belief as a test states it: single faults with their probability, the rest on a sound machine. */
export function believing(...believed: readonly (readonly [SizedFault, number])[]): HazardStanding {
  const probability = Float64Array.from([1 - believed.reduce((sum, [, p]) => sum + p, 0), ...believed.map(([, p]) => p)])
  return {
    hypotheses: [nothingWrong(), ...believed.map(([{ fault }]) => ({ id: fault.id, faults: [fault], absent: false, weight: 1 }))],
    sized: [
      { hypothesis: 0, faults: [], stretches: [], weight: 1 },
      ...believed.map(([one], i) => ({ hypothesis: i + 1, faults: [one], stretches: [], weight: 1 })),
    ],
    belief: { probability, cellProbability: probability },
    actions: [],
    groups: [],
    complaint: undefined,
  }
}
