/** Worked examples of rates, proportions and means from history. */

import { clopperPearson, garwoodInterval, meanInterval, rateFromQuantiles } from '@halfsplit/measurement'
import type { Answers, WorkedExample } from './worked-examples-case.js'

type Inputs = Record<string, number>

/** A prior from two judged mean times between failures: even odds for one, 95 % for the other. */
function priorExample({ mtbf50, mtbf95 }: Inputs): Answers {
  const { shape, exposure } = rateFromQuantiles(1 / mtbf50, 1 / mtbf95, 0.95)
  return { shape, rate: exposure }
}

/** A mean time between failures with its interval, the test ended at a time. */
function mtbfExample({ hours, failures, confidence }: Inputs): Answers {
  const { low, high } = garwoodInterval(failures, hours, confidence)
  const mtbf = hours / failures
  return { mtbf, lower: 1 / high, upper: 1 / low, factors: [1 / high / mtbf, 1 / low / mtbf] }
}

function proportionExample({ n, x, confidence }: Inputs): Answers {
  const { low, high } = clopperPearson(x, n, confidence)
  return { lower: low, upper: high }
}

function meanExample({ n, mean, standardDeviation, confidence }: Inputs): Answers {
  const { low, high } = meanInterval(mean, standardDeviation, n, confidence)
  return { lower: low, upper: high }
}

/** By an input that only this sort of example has. */
const SORTS: [string, (inputs: Inputs) => Answers][] = [
  ['mtbf50', priorExample],
  ['hours', mtbfExample],
  ['x', proportionExample],
  ['standardDeviation', meanExample],
]

/** An example of records, told by what it gives. */
export function recordsExample({ inputs }: WorkedExample): Answers {
  const [, answer] = SORTS.find(([name]) => name in (inputs as Inputs)) ?? []
  return answer?.(inputs as Inputs) ?? `inputs of no known sort: ${Object.keys(inputs as Inputs).join(', ')}`
}
