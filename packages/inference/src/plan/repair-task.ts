/** What is to be repaired, by which tests and replacements, and what a test shows while some parts are still faulty. */

import { type FaultWorld } from './fault-worlds.js'
import { type Machine, type MachineStates, machineOf, type StateCost } from './machine.js'

/** A part with the cost of replacing it and of the check after it, always both. */
export interface RepairPart extends StateCost {
  readonly id: string
}

/**
 * A test: by part, the probabilities of its outcomes while only that part is faulty, outcomes from sound to worst. Where
 * several are faulty, the worst of independent draws shows. A test whose probabilities are all 0 or 1 may be repeated after a
 * replacement; any other is done once at most.
 */
export interface RepairTest extends StateCost {
  readonly id: string
  readonly rows: readonly (readonly number[])[]
}

/**
 * Repair at the least expected cost: tests, and replacements each followed by a sure check; the job ends when the complaint
 * is gone.
 */
export interface RepairTask {
  readonly parts: readonly RepairPart[]
  /** What may be wrong; weights > 0 in any unit. */
  readonly worlds: readonly FaultWorld[]
  readonly tests: readonly RepairTest[]
  readonly machine?: MachineStates
}

/** A task made ready: sets of faulty parts by number, states by number. */
export class ReadyRepair {
  /** Ways of the tests first, then of the parts. */
  readonly machine: Machine
  readonly isSure: readonly boolean[]
  /** The sets of parts still faulty, by number; 0 is none. */
  readonly sets: (readonly number[])[] = [[]]
  private readonly numbers = new Map<string, number>([['', 0]])
  private readonly shown: Float64Array[][]

  constructor(readonly task: RepairTask) {
    const { parts, worlds, tests, machine } = task
    check(task)
    this.machine = machineOf(machine, [...tests, ...parts])
    this.isSure = tests.map(({ rows }) => rows.flat().every((probability) => probability === 0 || probability === 1))
    this.shown = tests.map(() => [])
    for (const { faulty } of worlds) this.setOf(faulty)
  }

  /** The number of a set of parts. */
  setOf(parts: readonly number[]): number {
    const sorted = [...parts].sort((a, b) => a - b)
    const key = sorted.join()
    const known = this.numbers.get(key)
    if (known !== undefined) return known
    this.numbers.set(key, this.sets.length)
    return this.sets.push(sorted) - 1
  }

  /** The set without a part. */
  without(set: number, part: number): number {
    return this.sets[set].includes(part) ? this.setOf(this.sets[set].filter((one) => one !== part)) : set
  }

  /**
   * Probabilities of a test's outcomes while these parts are faulty: P(r) = A(r) B(r) - A(r-1) B(r-1), A and B the running
   * sums.
   */
  outcomesOf(test: number, set: number): Float64Array {
    this.shown[test][set] ??= worstOf(this.sets[set].map((part) => this.task.tests[test].rows[part]))
    return this.shown[test][set]
  }
}

function worstOf(rows: readonly (readonly number[])[]): Float64Array {
  if (rows.length === 1) return Float64Array.from(rows[0])
  const product = rows[0].map(() => 1)
  for (const row of rows) {
    let sum = 0
    for (const [outcome, probability] of row.entries()) {
      sum += probability
      product[outcome] *= outcome === row.length - 1 ? 1 : sum
    }
  }
  return Float64Array.from(product, (upTo, outcome) => upTo - (outcome === 0 ? 0 : product[outcome - 1]))
}

function check({ parts, worlds, tests }: RepairTask): void {
  if (worlds.length === 0) throw new RangeError('a repair needs at least one way to be faulty')
  for (const { faulty, weight } of worlds) {
    if (!(weight > 0)) throw new RangeError(`the weight of ${namesOf(faulty, parts)} is ${weight}; leave out what is impossible`)
    if (faulty.length === 0 || faulty.some((part) => parts[part] === undefined))
      throw new RangeError(`a way to be faulty names the parts ${faulty.join()}; there are parts 0 to ${parts.length - 1}`)
  }
  for (const { id, rows } of tests)
    if (rows.length !== parts.length || rows.some((row) => row.length !== rows[0].length || Math.abs(sum(row) - 1) > 1e-9))
      throw new RangeError(`test '${id}' needs a row for each of ${parts.length} parts, all of one length, each with the sum 1`)
}

const sum = (row: readonly number[]): number => row.reduce((total, one) => total + one, 0)

const namesOf = (faulty: readonly number[], parts: readonly RepairPart[]): string =>
  faulty.map((part) => parts[part]?.id).join(' + ')
