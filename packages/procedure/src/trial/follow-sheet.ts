import type { Taken } from '@halfsplit/diagnosis'
import type { Procedure } from '../written/model.js'
import type { TakenAtStep } from '../written/passes.js'
import { walk } from '../written/walk.js'
import { complaintChecks } from './complaint-checks.js'
import type { End } from './outcome.js'
import type { Workplace } from './workplace.js'

/**
 * The fixed sheet written for this complaint, followed to its conclusion; the repair it names is made and proved, and where it does not
 * cure the sheet has nothing more to say. Nobody brings a limit to another temperature: such a sheet does not ask for one.
 * @returns undefined where there is no sheet for the complaint
 */
export function followSheet(place: Workplace, sheets: readonly Procedure[]): End | undefined {
  const sheet = sheets.find(({ complaint }) => complaint === place.given.complaint.id)
  if (!sheet) return undefined
  const { conclusion } = walk(place.bench.system, sheet, ({ test }) => atStep(place.take(test)))
  if (conclusion.kind === 'nothing found') return 'no fault found'
  if (conclusion.kind === 'no conclusion') return 'given up'
  place.repair([conclusion.repair])
  return place.proves(complaintChecks(place.bench, place.given)) ? 'proved' : 'given up'
}

/** What was taken, as a sheet knows it. */
function atStep(taken: Taken | undefined): TakenAtStep {
  if (!taken) return 'unsteady'
  const { outcome, probe } = taken
  if (outcome.kind === 'word' && probe.kind === 'look') return { word: probe.look.words[outcome.word] }
  return outcome.kind === 'number' ? { value: outcome.value } : 'over range'
}
