import { ASSUMPTIONS } from '@halfsplit/core'
import type { Machine } from '@halfsplit/diagnosis'
import type { Procedure } from '../written/model.js'
import { passes } from '../written/passes.js'
import type { Contradiction } from './findings.js'
import { partTemperature } from './follow.js'
import { soundShows } from './shown-by-sound.js'
import { SOUND, type Takings } from './taken-by.js'

/** Steps at which a sound machine, brought there by itself, does not show what the sheet expects. */
export function contradictions(machine: Machine, takings: Takings, { steps }: Procedure): Contradiction[] {
  return steps.flatMap((step) => {
    const taken = takings.of(SOUND, step.test.setup, step.test.probe)
    const temperature = partTemperature(machine, step)
    const fails = taken.filter((one) => !passes(step, one, temperature)).length / taken.length
    return fails > ASSUMPTIONS.auditSoundFails
      ? [{ kind: 'contradicts the description', step, fails, shows: soundShows(taken) }]
      : []
  })
}
