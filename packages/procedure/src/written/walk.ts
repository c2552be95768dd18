import { minutesFor, type Standpoint } from '@halfsplit/diagnosis'
import type { System } from '@halfsplit/system'
import type { Conclusion, Next, Procedure, Step } from './model.js'
import { passes, type TakenAtStep } from './passes.js'

/** A way through a sheet to its end. */
export interface Walk {
  conclusion: Conclusion
  /** Steps taken, in order, with what was shown and whether it was what the sheet expects. */
  taken: readonly { step: Step; shown: TakenAtStep; passed: boolean }[]
  /** Minutes of all steps, changes of state and ways included; the repair is not. */
  minutes: number
  /** Where the technician stands at the end. */
  at: Standpoint
}

/** Where a job begins: the first state of the description, at no place. */
export function startOf(system: System): Standpoint {
  const [parked] = system.states.keys()
  return { setup: { state: parked }, places: [] }
}

/** Temperature of the part whose resistance a step reads, where the machine gives it one [K]. */
export type PartTemperature = (step: Step) => number | undefined

/**
 * Follows a sheet step by step to its conclusion. It always ends: a parsed procedure never leads back.
 * @param take what is shown at a step; called once for each step on the way, in order
 * @param temperatureOf as measured with the resistance of a coil, where a step names the temperature its limits hold at
 */
export function walk(
  system: System,
  { steps }: Procedure,
  take: (step: Step, from: Standpoint) => TakenAtStep,
  temperatureOf: PartTemperature = () => undefined,
): Walk {
  const byId = new Map(steps.map((step) => [step.id, step]))
  const taken: { step: Step; shown: TakenAtStep; passed: boolean }[] = []
  let at = startOf(system)
  let minutes = 0
  let next: Next = steps.length > 0 ? { kind: 'step', step: steps[0].id } : { kind: 'no conclusion' }
  while (next.kind === 'step') {
    const step = byId.get(next.step) as Step
    const shown = take(step, at)
    const passed = passes(step, shown, temperatureOf(step))
    taken.push({ step, shown, passed })
    minutes += minutesFor(system, step.test, at)
    at = { setup: step.test.setup, places: step.test.places }
    next = passed ? step.pass : step.fail
  }
  return { conclusion: next, taken, minutes, at }
}
