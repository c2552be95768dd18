/** Worked examples of intermittent parts: what good looks are worth. */

import { type IntermittentSuspect, intermittentBelief, looksNeeded } from '@halfsplit/inference'
import { type Answers, namesIn, numberIn, type WorkedExample } from './worked-examples-case.js'

interface IntermittentInputs {
  priors: Record<string, number>
  candidates: string
}

/** Reads `A is always bad; B is bad at each look with probability 0.25 … A look checks the branch with A and B only`. */
function suspectsOf({ priors, candidates }: IntermittentInputs): IntermittentSuspect[] | null {
  const looked = /look checks the branch with ([\w, ]+?) only/.exec(candidates)
  if (looked === null) return null
  const seen = namesIn(looked[1])
  const suspects = Object.entries(priors).map(([id, prior]): IntermittentSuspect | null => {
    const isAlways = new RegExp(`\\b${id} is always bad`).test(candidates)
    const shows = isAlways ? 1 : numberIn(candidates, new RegExp(`\\b${id} is bad at each look with probability (\\d*\\.?\\d+)`))
    return shows === null ? null : { id, prior, shows, seenByLook: seen.includes(id) }
  })
  const read = suspects.filter((suspect) => suspect !== null)
  return read.length === suspects.length ? read : null
}

function needed(name: string, suspects: readonly IntermittentSuspect[]): [string, number] | null {
  const match = /P\(all good \| (\w+) at fault\) to (\d*\.?\d+) or less/.exec(name)
  const suspect = suspects.find(({ id }) => id === match?.[1])
  return match === null || suspect === undefined ? null : [name, looksNeeded(suspect.shows, Number(match[2]))]
}

/** Every quantity these examples ask for. */
export function intermittentExample({ inputs, expected }: WorkedExample): Answers {
  const given = inputs as IntermittentInputs
  const suspects = typeof given.candidates === 'string' ? suspectsOf(given) : null
  if (suspects === null) return 'suspects in words that are not understood'
  const rows = (expected.find(({ name }) => name === 'posteriorAfterGoodLooks')?.value ?? []) as { goodLooks: number }[]
  const posteriors = rows.map(({ goodLooks }) => {
    const { probability } = intermittentBelief(suspects, goodLooks)
    return { goodLooks, posterior: Object.fromEntries(suspects.map(({ id }, i) => [id, probability[i]])) }
  })
  const looks = expected.map(({ name }) => needed(name, suspects)).filter((entry) => entry !== null)
  return { posteriorAfterGoodLooks: posteriors, ...Object.fromEntries(looks) }
}
