/** What is to be told apart, by which tests, and the same made ready for the search. */

import { changeByTests, type Machine, type MachineStates, machineOf, type StateCost } from './machine.js'

/** One thing that may be wrong; exactly one is. */
export interface PlanSuspect {
  readonly id: string
  /** Prior or present probability, > 0, in any unit. */
  readonly weight: number
  /** What cures it: suspects of one repair need not be told apart. Left out: a repair of its own. */
  readonly repair?: string
}

/** A test with a certain outcome under each suspect: any whole numbers, aligned with the suspects. */
export interface PlanTest extends StateCost {
  readonly id: string
  readonly outcomes: readonly number[]
}

/** Tell the suspects apart, down to one repair or to what no test can split, at the least expected cost. */
export interface IsolationTask {
  readonly suspects: readonly PlanSuspect[]
  readonly tests: readonly PlanTest[]
  readonly machine?: MachineStates
}

/** Suspects that need not or cannot be told apart count as one. */
export interface Atom {
  readonly suspects: readonly number[]
  readonly weight: number
  readonly repair: number
  /** Equal where no test tells apart. */
  readonly row: number
  /** Equal where a chain of same repairs and same rows leads from one to the other: what every plan leaves together at most. */
  readonly group: number
}

/** A test with its outcomes numbered from 0 and listed by atom. */
export interface ReadyTest {
  readonly outcomes: Int32Array
  /** The outcome numbers of the task, in rising order. */
  readonly names: readonly number[]
  /** Its least cost in any state. */
  readonly least: number
}

/** A task made ready: atoms instead of suspects, states by number, only tests that can ever be done. */
export interface ReadyIsolation {
  readonly atoms: readonly Atom[]
  readonly tests: readonly ReadyTest[]
  readonly machine: Machine
  /** Tests that can be done from the start, by number. */
  readonly possible: readonly number[]
}

/** Throws a RangeError on a weight that is not above 0, or a test without an outcome for each suspect. */
export function readyIsolation({ suspects, tests, machine: states }: IsolationTask): ReadyIsolation {
  check(suspects, tests)
  const machine = machineOf(states, tests)
  const reach = changeByTests(machine, 1)[machine.start]
  const possible = tests.flatMap((_, test) =>
    machine.ways[test].some(({ state }) => reach[state] < Number.POSITIVE_INFINITY) ? [test] : [],
  )
  const atoms = atomsOf(
    suspects,
    possible.map((test) => tests[test]),
  )
  const ready = tests.map(({ outcomes }, test) => {
    const names = [...new Set(outcomes)].sort((a, b) => a - b)
    return {
      names,
      outcomes: Int32Array.from(atoms, (atom) => names.indexOf(outcomes[atom.suspects[0]])),
      least: Math.min(...machine.ways[test].map(({ cost }) => cost)),
    }
  })
  return { atoms, tests: ready, machine, possible }
}

function check(suspects: readonly PlanSuspect[], tests: readonly PlanTest[]): void {
  if (suspects.length === 0) throw new RangeError('a plan needs at least one suspect')
  for (const { id, weight } of suspects)
    if (!(weight > 0)) throw new RangeError(`the weight of suspect '${id}' is ${weight}; leave out what is impossible`)
  for (const { id, outcomes } of tests)
    if (outcomes.length !== suspects.length)
      throw new RangeError(`test '${id}' has ${outcomes.length} outcomes for ${suspects.length} suspects`)
}

function atomsOf(suspects: readonly PlanSuspect[], tests: readonly PlanTest[]): Atom[] {
  const rowOf = numbering()
  const repairOf = numbering()
  const described = suspects.map(({ id, repair }, suspect) => ({
    suspect,
    row: rowOf(tests.map(({ outcomes }) => outcomes[suspect]).join()),
    repair: repairOf(repair === undefined ? `of ${id} ${suspect}` : `by ${repair}`),
  }))
  const atoms = new Map<string, { suspects: number[]; row: number; repair: number }>()
  for (const { suspect, row, repair } of described) {
    const key = `${row} ${repair}`
    const atom = atoms.get(key) ?? { suspects: [], row, repair }
    atom.suspects.push(suspect)
    atoms.set(key, atom)
  }
  const list = [...atoms.values()]
  const groups = groupsOf(list)
  return list.map((atom, i) => ({
    ...atom,
    weight: atom.suspects.reduce((sum, suspect) => sum + suspects[suspect].weight, 0),
    group: groups[i],
  }))
}

/** Numbers texts from 0 in the order in which they come. */
function numbering(): (text: string) => number {
  const numbers = new Map<string, number>()
  return (text) => {
    const number = numbers.get(text) ?? numbers.size
    numbers.set(text, number)
    return number
  }
}

/** Joins what shares a row or a repair: the smallest number among those joined. */
function groupsOf(atoms: readonly { row: number; repair: number }[]): number[] {
  const group = atoms.map((_, i) => i)
  for (let changed = true; changed; ) {
    changed = false
    for (const key of ['row', 'repair'] as const) {
      const least = new Map<number, number>()
      for (const [i, atom] of atoms.entries()) least.set(atom[key], Math.min(group[i], least.get(atom[key]) ?? group[i]))
      for (const [i, atom] of atoms.entries()) {
        const lower = least.get(atom[key]) as number
        changed ||= lower < group[i]
        group[i] = lower
      }
    }
  }
  return group
}
