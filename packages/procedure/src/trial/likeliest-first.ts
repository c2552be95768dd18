import { type Bench, goodAt, testOf } from '@halfsplit/diagnosis'
import { looksNeeded } from '@halfsplit/inference'
import type { End } from './outcome.js'
import { followedBy, MOST_REPAIRS } from './repairs.js'
import type { TrialCase } from './trial-case.js'
import type { Check, Workplace } from './workplace.js'

/** Doubt left that a fault which comes and goes is still there, after as many good looks as it takes. */
const PROOF_DOUBT = 0.05

/** Likeliest part first: without a test, the repair most often needed for this complaint is made and proved, then the next. */
export function likeliestFirst(place: Workplace): End {
  const standing = place.bench.standing([], place.given.heard)
  const checks = complaintChecks(place.bench, place.given)
  for (const { repair } of standing.repairs.slice(0, MOST_REPAIRS)) {
    place.repair([repair, ...followedBy(place.bench, standing, repair)])
    if (place.proves(checks)) return 'proved'
  }
  return 'given up'
}

/** All the owner complained of, looked at again: what comes and goes, as often as it takes to be sure of it. */
export function complaintChecks(bench: Bench, { complaint, heard }: Pick<TrialCase, 'complaint' | 'heard'>): Check[] {
  const looks = looksNeeded(heard.howOften ?? 1, PROOF_DOUBT)
  return complaint.shows.flatMap(({ state, part: name, look: lookName }) => {
    const part = bench.system.parts.get(name)
    const look = part?.kind.looks?.find((one) => one.name === lookName)
    if (!part || !look) throw new RangeError(`the complaint speaks of '${name}.${lookName}', which is no look of this machine`)
    const test = testOf(bench.system, { state }, { kind: 'look', part, look })
    const good = goodAt(bench, test.setup, test.probe)
    return good ? [{ test, good, looks }] : []
  })
}
