/** Somebody who follows a plan at a virtual machine to the letter. */

import { ASSUMPTIONS, type Display } from '@halfsplit/core'
import { minutesFor, repairCost, type TableOutcome, type Test } from '@halfsplit/diagnosis'
import type { Complaint, System } from '@halfsplit/system'
import { repairOf, type VirtualMachine } from '../../virtual-machine.js'
import type { Plan, PlanBranch, PlanNext, PlanStep } from '../model.js'

export interface Followed {
  minutes: number
  repairs: readonly string[]
  /** The proof look was good, or the plan came to an end, with a fault still there. */
  wrongEnd: boolean
}

/** Follows the plan from where the complaint has been seen; minutes of that are given. */
export function followPlan(system: System, plan: Plan, complaint: Complaint, machine: VirtualMachine, before: number): Followed {
  let minutes = before
  const repairs: string[] = []
  const isCured = () => machine.standing.length === 0
  const mend = (repair: string, places: readonly string[]): boolean => {
    repairs.push(repair)
    let cured = false
    // A new part that is bad or wrongly fitted is found out and fitted again, as the figures take it.
    do {
      minutes += repairCost(system, repair, places).minutes + plan.proof.minutes
      machine.repair([repair])
      cured = !isShown(machine, complaint)
    } while (!cured && machine.standing.some((fault) => repairOf(system, fault) === repair))
    return cured
  }
  let next: PlanNext = plan.first
  while (next.kind === 'step') {
    const { number } = next
    const step = plan.steps[number - 1]
    if (step.step.kind === 'repair') {
      if (mend(step.step.repair, step.from.places)) return { minutes, repairs, wrongEnd: !isCured() }
      next = step.branches[0]?.next ?? { kind: 'end' }
    } else {
      minutes += minutesFor(system, step.step.test, step.from)
      next = branchTaken(step, step.step.test, machine).next
    }
  }
  if (next.kind === 'rest')
    for (const repair of next.repairs) if (mend(repair, [])) return { minutes, repairs, wrongEnd: !isCured() }
  return { minutes: minutes + ASSUMPTIONS.comebackMinutes, repairs, wrongEnd: !isCured() }
}

function branchTaken(step: PlanStep, { setup, probe }: Test, machine: VirtualMachine): PlanBranch {
  if (probe.kind === 'look') {
    const word = machine.look(setup, probe.part, probe.look)
    return chosen(step, (outcome) => outcome.kind === 'words' && outcome.words.includes(word))
  }
  const shown = machine.read(setup, probe)
  const value = shown === 'unsteady' ? Number.NaN : valueOf(shown)
  return chosen(step, (outcome) => outcome.kind === 'reading' && value >= outcome.low && value < outcome.high)
}

const valueOf = (shown: Display): number => (shown.over ? Number.MAX_VALUE : shown.value)

/** An outcome that the plan has no branch for goes the likeliest way. */
const chosen = (step: PlanStep, fits: (outcome: TableOutcome) => boolean): PlanBranch =>
  step.branches.find(({ outcome }) => outcome.kind !== 'still there' && fits(outcome)) ?? step.branches[0]

function isShown(machine: VirtualMachine, { shows }: Complaint): boolean {
  return shows.every(({ state, part: name, look: lookName, word }) => {
    const part = machine.system.parts.get(name)
    const look = part?.kind.looks?.find((one) => one.name === lookName)
    return part !== undefined && look !== undefined && machine.look({ state }, part, look) === word
  })
}
