import { readFileSync } from 'node:fs'
import { printIssue } from '@halfsplit/core'
import { type Arrival, faultModes, Machine, type Setup, type SizedFault } from '@halfsplit/diagnosis'
import { flowOf } from '@halfsplit/network'
import { nodeAt, parseSystem, type System } from '@halfsplit/system'

/** Text of a described system of the library. */
export const libraryText = (name: string): string =>
  readFileSync(new URL(`../../library/${name}/${name}.yaml`, import.meta.url), 'utf8')

/** The system a text describes. @throws Error with every issue, warnings too */
export function systemOf(text: string, file = 'test.yaml'): System {
  const { system, issues } = parseSystem(text, file)
  if (!system || issues.length > 0) throw new Error(issues.map((one) => printIssue(one)).join('\n'))
  return system
}

/** Replaces every place where `from` stands, which must be there. */
export function replaced(text: string, from: string, to: string): string {
  if (!text.includes(from)) throw new Error(`"${from}" is not in the text`)
  return text.replaceAll(from, to)
}

/** A machine as a test speaks of it: faults by their names, points by theirs, the branch that the mean machine takes. */
export class Bay {
  readonly machine: Machine

  constructor(readonly system: System) {
    this.machine = new Machine(system)
  }

  fault(id: string, severity?: number): SizedFault {
    const fault = faultModes(this.system, { byHand: true }).find((one) => one.id === id)
    if (!fault) throw new Error(`no fault is called '${id}'`)
    return { fault, severity, sd: 0 }
  }

  /** How the machine with all parts at their middle comes to rest. */
  arrive(state: string, faults: readonly SizedFault[] = [], intervention?: Setup['intervention']): Arrival {
    const likely = this.machine
      .arrive(faults, { state, intervention })
      .find(({ conditions }) => conditions.every(({ mean, side }) => mean * side > 0))
    if (!likely) throw new Error(`no branch for the mean machine in '${state}'`)
    return likely
  }
}

function settledOf({ settled, unsettled }: Arrival) {
  if (!settled) throw new Error(JSON.stringify(unsettled))
  return settled
}

/** Across quantity between two points [V, Pa]. */
export function across(bay: Bay, arrival: Arrival, a: string, b?: string): number {
  const settled = settledOf(arrival)
  const at = (port: string) => settled.point.across[settled.circuit.index.get(nodeAt(bay.system, port)) as number]
  return at(a) - (b === undefined ? 0 : at(b))
}

/** Flow through an element of a part, `SV1:coil` [A, kg/s]. */
export const through = (arrival: Arrival, element: string): number => flowOf(settledOf(arrival), element)

/** Whether a signal of a part is on, `K7:pulled`. */
export const isOn = (arrival: Arrival, signal: string): boolean => settledOf(arrival).state[signal]
