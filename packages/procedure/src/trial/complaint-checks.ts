import { type Bench, goodAt, testOf } from '@halfsplit/diagnosis'
import { looksNeeded } from '@halfsplit/inference'
import type { TrialCase } from './trial-case.js'
import type { Check } from './workplace.js'

/** Doubt left that a fault which comes and goes is still there, after as many good looks as it takes. */
const PROOF_DOUBT = 0.05

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
