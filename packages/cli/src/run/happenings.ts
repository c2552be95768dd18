import { timeWords } from '../words/time.js'
import type { Told } from './told.js'

/** Events that follow one another closely, as one sentence. */
export interface Happening {
  /** Of the first [s]. */
  time: number
  text: string
}

/** An event within this of the last [s] is told in the same sentence, up to so many. */
const CLOSE = 10
const MOST_IN_ONE = 8
/** Events nearer than this [s] happen at once: a contact takes longer to move. */
const AT_ONCE = 1e-2

/** "12 min 40 s: TS1 opens at 108 degC; 2 s later SV1 lets go; 0.6 s later CL1 is applied" */
export function happeningsOf(told: readonly Told[]): Happening[] {
  const groups: Told[][] = []
  for (const event of told) {
    const group = groups.at(-1)
    if (group && event.time - (group.at(-1) as Told).time <= CLOSE && group.length < MOST_IN_ONE) group.push(event)
    else groups.push([event])
  }
  return groups.map((group) => ({ time: group[0].time, text: `${timeWords(group[0].time)}: ${sentence(group)}` }))
}

function sentence(group: readonly Told[]): string {
  return group
    .map(({ time, text }, i) => {
      const gap = i === 0 ? 0 : time - group[i - 1].time
      if (i === 0) return text
      return gap < AT_ONCE ? `, ${text}` : `; ${timeWords(gap)} later ${text}`
    })
    .join('')
}
