import { decisionTable, nextStep, repairsMade, type Standing, weighTests } from '@halfsplit/diagnosis'
import { asProposed, follow, type Step } from './follow-bench.js'
import type { End } from './outcome.js'
import type { Workplace } from './workplace.js'

/** Tests that a plan is made of: those that tell most for their minutes. */
const TESTS_PLANNED = 24

/** By expected cost to a proved repair: the step with which the cheapest plan begins, planned anew after each. */
export const followPlan = (place: Workplace): End => follow(place, asPlanned)

/** After a repair that did not cure, the bench goes on as it proposes: a plan knows only what was believed before its repairs. */
function asPlanned(place: Workplace, standing: Standing, done: ReadonlySet<string>): Step {
  const proposed = asProposed(place, standing, done)
  // What the owner complains of is seen first, whatever a plan says; and nobody plans past an end.
  if (place.tests === 0 || proposed.do === 'end' || repairsMade(standing).length > 0) return proposed
  const options = { from: place.at, excluded: done }
  const tests = weighTests(place.bench, standing, options)
    .filter(({ blind }) => !blind)
    .slice(0, TESTS_PLANNED)
    .map(({ test }) => test)
  const { step } = nextStep(decisionTable(place.bench, standing, { ...options, tests }))
  if (step.kind === 'test') return { do: 'test', test: step.test }
  return step.kind === 'repair' ? { do: 'repair', repair: step.repair } : { do: 'end', end: 'no fault found' }
}
