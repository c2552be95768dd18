import { formatValue } from '@halfsplit/core'
import { type Counting, countingIn, Realiser, type System } from '@halfsplit/system'
import { partWords } from './names.js'
import { userValue } from './user-units.js'

/** What a reading in a state hangs on besides the state, in sentences; none where any reading counts. */
export function countingWords(system: System, state: string): string[] {
  return countingOf(system, state).map((one) => words(system, one))
}

/** The same as data: docs/reference/json.md, "counting". */
export function countingDocument(system: System, state: string) {
  return countingOf(system, state).map((one) => ({ ...one, part: one.part.name, text: words(system, one) }))
}

function countingOf(system: System, state: string): Counting[] {
  const found = countingIn(new Realiser(system), state)
  return Array.isArray(found) ? found : []
}

function words(system: System, one: Counting): string {
  const name = partWords(one.part)
  if (one.because === 'timer') {
    const { delay, shortest, longest, goes } = one
    const limits = shortest === undefined || longest === undefined ? '' : ` (${seconds(shortest)} to ${seconds(longest)})`
    return `${name} takes ${seconds(delay)}${limits} after its input goes ${goes}: a reading counts from then on.`
  }
  const { reset, trip, dimension, is, otherwise, from, since } = one
  const [low, high] = [reset, trip].map((level) => userValue(system, level, dimension))
  const [came, other] =
    from === 'above' ? [`down from above ${high}`, `up from below ${low}`] : [`up from below ${low}`, `down from above ${high}`]
  const where = since === undefined ? ', as every machine begins' : `, last in ${since}`
  return `${name} lies between ${low} and ${high}: it is ${is} because it came ${came}${where}. Come ${other} it would be ${otherwise}, and the reading would not count.`
}

const seconds = (time: number): string => formatValue(time, 'time')
