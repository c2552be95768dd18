/** What isolating a set of suspects costs at least. */

import type { ReadyIsolation } from './isolation-task.js'
import { changeByTests, finalChange } from './machine.js'
import { leastCostOfTests, prefixCodeLength } from './prefix-code.js'

/** The tests that may still tell something, with what the bound needs of them. */
export interface Toolset {
  readonly tests: readonly number[]
  /** Sums of the n least costs, from n = 0. */
  readonly running: Float64Array
  /** Most outcomes of any of the tests, at least 2. */
  readonly arity: number
  /** By state: what changes of state cost at least, to any of the tests and from it to the final state. */
  readonly changes: Float64Array
}

/** Pairs are looked at up to this many suspects: the work goes with the square. */
const PAIRS_UP_TO = 64

/** Bounds of one task. */
export class IsolationBound {
  /** By state: the tests by rising cost of going there, doing it, and going on to the final state. */
  private readonly byEntry: readonly { test: number; cost: number }[][]
  /** By state and test: changes of state alone. */
  private readonly changesOf: readonly number[][]
  /** By state: the cost between every two atoms, NaN while not yet asked for. */
  private readonly between: Float64Array[] = []

  constructor(private readonly ready: ReadyIsolation) {
    this.byEntry = this.roundTrips(1).map((costs) =>
      costs.map((cost, test) => ({ test, cost })).sort((a, b) => a.cost - b.cost || a.test - b.test),
    )
    this.changesOf = this.roundTrips(0)
  }

  /** By state and test: the cheapest way from the state over the test to the end, with tests themselves counted at this share. */
  private roundTrips(share: 0 | 1): number[][] {
    const { machine } = this.ready
    const change = changeByTests(machine, share)
    const onward = { ...machine, change }
    return machine.names.map((_, from) =>
      machine.ways.map((ways) =>
        Math.min(...ways.map(({ state, cost, leaves }) => change[from][state] + share * cost + finalChange(onward, leaves))),
      ),
    )
  }

  toolset(tests: readonly number[]): Toolset {
    const costs = Float64Array.from(tests, (test) => this.ready.tests[test].least).sort()
    const running = new Float64Array(costs.length + 1)
    for (const [i, cost] of costs.entries()) running[i + 1] = running[i] + cost
    const least = this.changesOf.map((costOf) =>
      tests.reduce((least, test) => Math.min(least, costOf[test]), Number.POSITIVE_INFINITY),
    )
    const arity = tests.reduce((most, test) => Math.max(most, this.ready.tests[test].names.length), 2)
    return { tests, running, arity, changes: Float64Array.from(least) }
  }

  /** The weighted bound for a set that is not yet told apart. */
  of(members: readonly number[], weight: number, state: number, tools: Toolset): number {
    const byNumber = this.byNumberOfTests(members, weight, tools) + weight * tools.changes[state]
    return members.length > PAIRS_UP_TO ? byNumber : Math.max(byNumber, this.byPairs(members, state))
  }

  /** However good the tests are, so many of them are needed, all different on one path. */
  private byNumberOfTests(members: readonly number[], weight: number, { running, arity }: Toolset): number {
    const { atoms } = this.ready
    const weights = new Map<number, number>()
    for (const member of members) weights.set(atoms[member].group, (weights.get(atoms[member].group) ?? 0) + atoms[member].weight)
    return weight * leastCostOfTests(running, prefixCodeLength([...weights.values()], arity) / weight)
  }

  /** Every path must hold a test that tells its suspect from each other one: at least the dearest of these. */
  private byPairs(members: readonly number[], state: number): number {
    const { length } = this.ready.atoms
    this.between[state] ??= new Float64Array(length * length).fill(Number.NaN)
    const between = this.between[state]
    const dearest = new Float64Array(members.length)
    for (let i = 1; i < members.length; i++)
      for (let j = 0; j < i; j++) {
        const pair = members[i] * length + members[j]
        if (Number.isNaN(between[pair])) between[pair] = this.cheapestBetween(members[i], members[j], state)
        const cost = between[pair]
        if (cost > dearest[i]) dearest[i] = cost
        if (cost > dearest[j]) dearest[j] = cost
      }
    let sum = 0
    for (const [i, member] of members.entries()) sum += this.ready.atoms[member].weight * dearest[i]
    return sum
  }

  private cheapestBetween(one: number, other: number, state: number): number {
    const { atoms, tests } = this.ready
    if (atoms[one].repair === atoms[other].repair || atoms[one].row === atoms[other].row) return 0
    for (const { test, cost } of this.byEntry[state]) if (tests[test].outcomes[one] !== tests[test].outcomes[other]) return cost
    return Number.POSITIVE_INFINITY
  }
}
