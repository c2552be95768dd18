/** A troubleshooting table made ready: typed arrays, suspects sorted by what cures them, prices from everywhere. */

import { capacityBound } from './capacity.js'
import { checkTrouble, type TroubleTask } from './task.js'

/** Fate of a suspect under a repair that cures it. */
export const CURED = -1

/** Where one stands in a job: what is believed, the machine's state, the place, and which tests are done. */
export interface Here {
  readonly weights: Float64Array
  readonly state: number
  readonly place: number
  /** By test. */
  readonly done: Uint8Array
}

export const startOf = ({ weights, task: { start }, tests }: ReadyTrouble): Here => ({
  weights,
  state: start.state,
  place: start.place,
  done: new Uint8Array(tests),
})

/** A table made ready for search. Suspects stand in an order of their own (`names`), those of one repair side by side. */
export class ReadyTrouble {
  readonly suspects: number
  readonly tests: number
  readonly repairs: number
  /** Numbers of the suspects in the task. */
  readonly names: readonly number[]
  readonly weights: Float64Array
  /** By suspect: number of its class, the suspects cured by the same repairs. */
  readonly classOf: Int32Array
  readonly classes: number
  /** By suspect: whether it needs exactly one repair. */
  readonly isSingle: Uint8Array
  readonly isSound: Uint8Array
  readonly missed: Float64Array
  /** By test: [outcome][suspect]. */
  readonly columns: readonly Float64Array[]
  readonly outcomes: Int32Array
  /** By test: bits that it tells at most, whatever is believed. */
  readonly capacity: Float64Array
  /** By test: its own cost, changes and ways left out. */
  readonly leastTest: Float64Array
  /** [repair][suspect]: the suspect it leaves, itself where it does nothing, CURED. */
  readonly fate: Int32Array
  /** By repair: cost with proof when one comes from the proof of another, and the least cost from anywhere. */
  readonly again: Float64Array
  readonly leastRepair: Float64Array
  /** By suspect: what curing it costs at least; what ending with it still there costs. */
  readonly need: Float64Array
  readonly wrongEnd: Float64Array
  /** Cost of a wrong end beside the repair. */
  readonly comeback: number

  constructor(readonly task: TroubleTask) {
    checkTrouble(task)
    const { suspects, tests, repairs } = task
    this.suspects = suspects.length
    this.tests = tests.length
    this.repairs = repairs.length
    const label = suspects.map(({ needs }) => [...needs].sort((a, b) => a - b).join())
    this.names = suspects.map((_, s) => s).sort((a, b) => (label[a] < label[b] ? -1 : label[a] > label[b] ? 1 : a - b))
    const labels = [...new Set(this.names.map((s) => label[s]))]
    const ordered = this.names.map((s) => suspects[s])
    this.classes = labels.length
    this.classOf = Int32Array.from(this.names, (s) => labels.indexOf(label[s]))
    this.weights = Float64Array.from(ordered, ({ weight }) => weight)
    this.isSingle = Uint8Array.from(ordered, ({ needs }) => Number(needs.length === 1))
    this.isSound = Uint8Array.from(ordered, ({ needs }) => Number(needs.length === 0))
    this.missed = Float64Array.from(ordered, ({ missed }) => missed)
    this.outcomes = Int32Array.from(tests, (test) => test.outcomes)
    this.columns = tests.map(({ outcomes, chances }) =>
      Float64Array.from({ length: outcomes * this.suspects }, (_, at) => {
        const [outcome, s] = [Math.floor(at / this.suspects), at % this.suspects]
        return chances[this.names[s] * outcomes + outcome]
      }),
    )
    this.capacity = Float64Array.from(this.columns, (columns, t) => capacityBound(columns, this.suspects, this.outcomes[t]))
    this.leastTest = Float64Array.from(tests, ({ time }) => time * task.timeCost)
    this.fate = this.fates()
    this.again = Float64Array.from(repairs, (_, r) => this.repairCost(r, task.proof.state, task.proof.place))
    this.leastRepair = Float64Array.from(repairs, ({ time, price, place }) => {
      const back = place === undefined ? 0 : task.ways[place][task.proof.place]
      return price + (time + back + task.proof.time) * task.timeCost
    })
    this.comeback = task.comeback.price + task.comeback.time * task.timeCost
    const costOf = (of: Float64Array) =>
      Float64Array.from(ordered, ({ needs }) =>
        needs.reduce((sum, repair) => sum + of[repair] + task.badNewPart * this.again[repair], 0),
      )
    this.need = costOf(this.leastRepair)
    this.wrongEnd = costOf(this.again).map((cost, s) => (this.isSound[s] ? 0 : cost + this.comeback))
  }

  /** Time of a test from where one stands. */
  testTime(test: number, state: number, place: number): number {
    const { tests, changes, ways } = this.task
    const { state: to, place: at, time } = tests[test]
    return changes[state][to] + ways[place][at] + time
  }

  /** Time of a repair alone, its proof not counted. */
  repairTime(repair: number, place: number): number {
    const { repairs, ways } = this.task
    const { place: at, time } = repairs[repair]
    return (at === undefined ? 0 : ways[place][at]) + time
  }

  /** Time from the end of a repair to the end of its proof look. */
  proofTime(repair: number, state: number, place: number): number {
    const { repairs, changes, ways, proof } = this.task
    return changes[state][proof.state] + ways[repairs[repair].place ?? place][proof.place] + proof.time
  }

  testCost(test: number, state: number, place: number): number {
    return this.testTime(test, state, place) * this.task.timeCost
  }

  /** Cost of a repair with its proof, from where one stands. */
  repairCost(repair: number, state: number, place: number): number {
    const time = this.repairTime(repair, place) + this.proofTime(repair, state, place)
    return time * this.task.timeCost + this.task.repairs[repair].price
  }

  private fates(): Int32Array {
    const { suspects, repairs } = this.task
    const at = new Map(this.names.map((name, s) => [name, s]))
    const fate = new Int32Array(repairs.length * this.suspects)
    for (let repair = 0; repair < repairs.length; repair++)
      for (const [s, name] of this.names.entries()) {
        const { needs, then } = suspects[name]
        const i = needs.indexOf(repair)
        const left = then?.[i]
        fate[repair * this.suspects + s] = i < 0 ? s : left === undefined ? CURED : (at.get(left) as number)
      }
    return fate
  }
}
