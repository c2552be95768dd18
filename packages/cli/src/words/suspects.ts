import { ABSENT_NOW, NO_REPAIR, type Standing } from '@halfsplit/diagnosis'
import type { System } from '@halfsplit/system'
import { partWords } from './names.js'

/** A repair as it is said: what is done, to which part. `mend GL` or `replace K7` with the title its kind gives it. */
export function repairTitle(system: System, repair: string): string {
  if (repair === NO_REPAIR) return 'nothing to repair'
  const [id, part] = split(repair)
  return system.parts.get(part)?.repairs[id]?.title ?? repair
}

/** The part a repair is done to. */
export const repairedPart = (repair: string): string => split(repair)[1]

const split = (repair: string): [string, string] => {
  const cut = repair.indexOf(' ')
  return [repair.slice(0, cut), repair.slice(cut + 1)]
}

/** "LT burnt out": the failure mode of a single fault, as said in the bay; both faults of a pair. */
export function faultTitle(standing: Standing, hypothesisId: string): string {
  const hypothesis = standing.hypotheses.find((one) => one.id === hypothesisId)
  if (!hypothesis || hypothesis.faults.length === 0)
    return hypothesisId === ABSENT_NOW ? 'not there now, comes and goes' : 'nothing wrong'
  return hypothesis.faults
    .map(({ part, mode, other }) => `${partWords(part)} ${mode.title}${other ? ` ${other}` : ''}`)
    .join(' and ')
}
