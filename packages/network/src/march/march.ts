import { NetworkError } from '../errors.js'
import type { Leg, March, MarchOptions } from './outcome.js'
import { Run } from './run.js'

/**
 * Behaviour over time: what a network does from its rest on, store by store and switch by switch. Stores start at what they hold (see
 * `holds`) or at their rest; each leg of the schedule puts another network of the same names into force.
 *
 * Implicit steps of fourth order with error control; levels are found on the step's own curve, reached to the last digit by stepping again
 * to just past them, and all that switches at that instant is brought to rest before the next step. Timers end to the digit.
 * Cost: about 6 solves of the moving islands a step; islands at rest are solved only when one of their contacts switches.
 * @throws NetworkError for legs out of order, and as `settle`
 */
export function march(legs: readonly Leg[], options: MarchOptions): March {
  const ordered = legs.length > 0 && legs[0].from === 0 && legs.every((leg, i) => i === 0 || leg.from > legs[i - 1].from)
  if (!ordered || !(options.until > 0)) {
    const message = `a march needs legs that begin at 0 s and follow each other, and an end after 0 s: ${legs.map((leg) => leg.from).join(', ')} until ${options.until}`
    throw new NetworkError('ELEMENT_VALUE', message, [])
  }
  return new Run(legs, options).march()
}
