import { ASSUMPTIONS } from '@halfsplit/core'
import {
  type Bench,
  proof,
  propose,
  type RepairBelief,
  repairCost,
  type Standing,
  type Test,
  verdict,
} from '@halfsplit/diagnosis'
import { complaintChecks } from './complaint-checks.js'
import type { End } from './outcome.js'
import { followedBy, MOST_REPAIRS, stillNeeded } from './repairs.js'
import type { Check, Workplace } from './workplace.js'

/** Tests in one job after which it is decided with what is known. */
const MOST_TESTS = 40
/** A repair less likely than this is not tried when nothing is left to test. */
const LEAST_BELIEF = 0.05

export type Step = { do: 'test'; test: Test } | { do: 'repair'; repair: string } | { do: 'end'; end: End }

/** What to do next on a standing, with the tests that were done since the last repair. */
export type Advice = (place: Workplace, standing: Standing, done: ReadonlySet<string>) => Step

/**
 * Does what is advised: tests until it is time to repair, repairs, proves, and goes on with the log where the complaint is still there.
 * Where the owner says that it comes and goes, nobody says *no fault found* before having waited for it.
 */
export function follow(place: Workplace, advice: Advice): End {
  const done = new Set<string>()
  for (;;) {
    const standing = place.standing()
    const step = advice(place, standing, done)
    if (step.do === 'test') {
      done.add(step.test.id)
      place.take(step.test)
      continue
    }
    if (step.do === 'end') {
      if (step.end !== 'no fault found' || !place.waitsFor(complaintChecks(place.bench, place.given))) return step.end
    } else {
      place.repair([step.repair, ...followedBy(place.bench, standing, step.repair)])
      if (place.proves(proofPlan(place))) return 'proved'
      if (place.fitted.length >= MOST_REPAIRS) return 'given up'
    }
    // On a machine that was repaired, or shows itself anew, every test may tell something new.
    done.clear()
  }
}

/** As `isolate` shows it: the test it proposes first, the repair once it says so. */
export const followBench = (place: Workplace): End => follow(place, asProposed)

/** What the bench wants to be good now. */
function proofPlan({ bench, log: { log, complaint }, at }: Workplace): readonly Check[] {
  return proof(bench, bench.standing(log, complaint), log, at).steps
}

/**
 * The repair when the bench says repair, else its test. With nothing left to tell, the repair that is likeliest for its money, unless it
 * is likelier that none will help.
 */
export function asProposed(place: Workplace, standing: Standing, done: ReadonlySet<string>): Step {
  const needed = stillNeeded(place.bench, standing)
  const settled = place.tests > 0 ? settledStep(standing, needed) : undefined
  if (settled) return settled
  const best = place.tests < MOST_TESTS ? propose(place.bench, standing, { from: place.at, excluded: done }).best : undefined
  return best ? { do: 'test', test: best.test } : atLast(place.bench, standing, needed)
}

/** The repair, or the end without one, that the bench is sure enough of. */
function settledStep(standing: Standing, needed: readonly RepairBelief[]): Step | undefined {
  const said = verdict({ ...standing, repairs: needed })
  if (said.kind === 'repair' && said.repair !== null) return { do: 'repair', repair: said.repair }
  const otherwise = noRepairHelps(standing)
  return otherwise.probability >= ASSUMPTIONS.repairAt ? { do: 'end', end: otherwise.end } : undefined
}

/** The likelier of the two ends without a repair. */
function noRepairHelps({ notDescribed, nothingWrong, absentNow }: Standing): { end: End; probability: number } {
  const sound = nothingWrong + absentNow
  return notDescribed >= sound
    ? { end: 'not described', probability: notDescribed }
    : { end: 'no fault found', probability: sound }
}

/** Nothing is left to tell: the likeliest repair for its money, or none. */
function atLast(bench: Bench, standing: Standing, needed: readonly RepairBelief[]): Step {
  const likely = needed.filter(({ probability }) => probability >= LEAST_BELIEF)
  const otherwise = noRepairHelps(standing)
  if (likely.length === 0 || otherwise.probability > likely[0].probability) return { do: 'end', end: otherwise.end }
  const worth = ({ repair, probability }: RepairBelief) => probability / repairCost(bench.system, repair).money
  const best = likely.reduce((most, one) => (worth(one) > worth(most) ? one : most))
  return { do: 'repair', repair: best.repair }
}
