import { type Machine, minutesFor, type Standpoint } from '@halfsplit/diagnosis'
import type { Conclusion, Next, Procedure, Step } from '../written/model.js'
import { passes } from '../written/passes.js'
import { startOf } from '../written/walk.js'
import type { Cell, Population } from './population.js'
import type { Takings } from './taken-by.js'

/** Specimens that came to an end by one answer of one step. */
export interface End {
  step: Step
  passed: boolean
  conclusion: Conclusion
  cell: Cell
  weight: number
  minutes: number
  at: Standpoint
}

/** Weight that came to a step with each repair needed (undefined: none), by what the step answered. */
export type Answers = Map<string | undefined, { pass: number; fail: number }>

/** Weight that came to a step, by cell. */
export type Arrivals = ReadonlyMap<Cell, number>

/** What became of a population that was taken through a sheet. */
export interface Followed {
  ends: readonly End[]
  answers: ReadonlyMap<string, Answers>
  arrivals: ReadonlyMap<string, Arrivals>
}

/** Takes every specimen of every fault through the sheet, to its end. */
export function follow(machine: Machine, takings: Takings, procedure: Procedure, { sound, cells }: Population): Followed {
  const follower = new Follower(machine, takings, procedure)
  for (const cell of [sound, ...cells]) follower.take(cell)
  return follower
}

class Follower implements Followed {
  readonly ends: End[] = []
  readonly answers = new Map<string, Answers>()
  readonly arrivals = new Map<string, Map<Cell, number>>()
  private readonly byId: ReadonlyMap<string, Step>
  private readonly minutes = new Map<string, number>()

  constructor(
    private readonly machine: Machine,
    private readonly takings: Takings,
    private readonly procedure: Procedure,
  ) {
    this.byId = new Map(procedure.steps.map((step) => [step.id, step]))
  }

  take(cell: Cell): void {
    const [first] = this.procedure.steps
    if (!first) return
    const all = Array.from(cell.weights.keys()).filter((n) => cell.weights[n] > 0)
    this.goThrough(first, { cell, members: all, minutes: 0, at: startOf(this.machine.system) })
  }

  private goThrough(step: Step, party: Party): void {
    const passed = this.passedOf(step, party.cell)
    const minutes = party.minutes + this.minutesTo(step, party.at)
    const at = { setup: step.test.setup, places: step.test.places }
    for (const side of [true, false]) {
      const members = party.members.filter((n) => passed[n] === side)
      if (members.length === 0) continue
      const weight = members.reduce((sum, n) => sum + party.cell.weights[n], 0)
      this.note(step, side, party.cell, weight)
      this.goOn(step, side, { cell: party.cell, members, minutes, at }, weight)
    }
  }

  private goOn(step: Step, passed: boolean, party: Party, weight: number): void {
    const next: Next = passed ? step.pass : step.fail
    if (next.kind === 'step') this.goThrough(this.byId.get(next.step) as Step, party)
    else this.ends.push({ step, passed, conclusion: next, cell: party.cell, weight, minutes: party.minutes, at: party.at })
  }

  private passedOf(step: Step, { present }: Cell): boolean[] {
    const { setup, probe } = step.test
    const temperature = partTemperature(this.machine, step)
    return this.takings.of(present, setup, probe).map((one) => passes(step, one, temperature))
  }

  private note({ id }: Step, passed: boolean, cell: Cell, weight: number): void {
    const { fault } = cell
    const arrived = this.arrivals.get(id) ?? new Map<Cell, number>()
    arrived.set(cell, (arrived.get(cell) ?? 0) + weight)
    this.arrivals.set(id, arrived)
    const answers: Answers = this.answers.get(id) ?? new Map()
    const one = answers.get(fault?.repair) ?? { pass: 0, fail: 0 }
    one[passed ? 'pass' : 'fail'] += weight
    answers.set(fault?.repair, one)
    this.answers.set(id, answers)
  }

  private minutesTo(step: Step, from: Standpoint): number {
    const key = `${step.id} ${JSON.stringify(from)}`
    let minutes = this.minutes.get(key)
    if (minutes === undefined) {
      minutes = minutesFor(this.machine.system, step.test, from)
      this.minutes.set(key, minutes)
    }
    return minutes
  }
}

interface Party {
  cell: Cell
  /** Numbers of the specimens. */
  members: readonly number[]
  minutes: number
  at: Standpoint
}

/** Temperature in a step's state of the part whose resistance it reads, as a technician would measure it there [K]. */
export function partTemperature(machine: Machine, { test: { setup, probe } }: Step): number | undefined {
  if (probe.kind !== 'ohms') return undefined
  const imposed = machine.settingsIn(setup.state).get(`${probe.part}.temperature`)
  return typeof imposed === 'number' ? imposed : undefined
}
