/** States of a machine: what changes between them cost, and what a test costs from where the machine stands. */

/**
 * States and direct changes: `changeCost[from][to]` is null where there is no direct change; ways over other states are
 * allowed at their sum.
 */
export interface MachineStates {
  readonly names: readonly string[]
  readonly changeCost: readonly (readonly (number | null)[])[]
  readonly start: string
  /** Where the machine must stand at the end; anywhere when left out. */
  readonly final?: string
}

/**
 * What an action costs: the same in any state, or by the states it is possible in; and where it leaves the machine if not
 * where it was.
 */
export interface StateCost {
  readonly cost: number | Readonly<Record<string, number>>
  readonly leavesState?: string
}

/** One way to do an action: in this state, at this cost, after which the machine is in the state `leaves`. */
export interface Way {
  readonly state: number
  readonly cost: number
  readonly leaves: number
}

/** A machine ready for planning; states by number. */
export interface Machine {
  readonly names: readonly string[]
  readonly start: number
  readonly final: number | undefined
  /** Cheapest change, direct or not; Infinity where there is none. */
  readonly change: readonly (readonly number[])[]
  /** The ways to do each action. */
  readonly ways: readonly (readonly Way[])[]
}

/** A machine of one state, for tasks that have none. */
const STANDING: MachineStates = { names: ['as it is'], changeCost: [[0]], start: 'as it is' }

/** The machine of a task. Throws a RangeError on a state that is not in the list, or a cost that is not a number from 0 up. */
export function machineOf(states: MachineStates = STANDING, actions: readonly StateCost[]): Machine {
  const numberOf = (name: string) => {
    const at = states.names.indexOf(name)
    if (at < 0) throw new RangeError(`no state '${name}' among ${states.names.join(', ')}`)
    return at
  }
  const direct = states.changeCost.map((row, from) =>
    row.map((cost, to) => (from === to ? 0 : (cost ?? Number.POSITIVE_INFINITY))),
  )
  for (const cost of direct.flat()) requireCost(cost, 'a change of state')
  return {
    names: states.names,
    start: numberOf(states.start),
    final: states.final === undefined ? undefined : numberOf(states.final),
    change: shortest(direct),
    ways: actions.map((action) => waysOf(action, states.names, numberOf)),
  }
}

function waysOf({ cost, leavesState }: StateCost, names: readonly string[], numberOf: (name: string) => number): Way[] {
  const costs = typeof cost === 'number' ? names.map((name) => [name, cost] as const) : Object.entries(cost)
  return costs.map(([name, amount]) => {
    requireCost(amount, `an action in the state '${name}'`)
    const state = numberOf(name)
    return { state, cost: amount, leaves: leavesState === undefined ? state : numberOf(leavesState) }
  })
}

function requireCost(cost: number, what: string): void {
  if (!(cost >= 0)) throw new RangeError(`the cost of ${what} is ${cost}; it must be a number from 0 up`)
}

/** Cost of going over to a way and doing it. */
export const priceOf = ({ change }: Machine, from: number, { state, cost }: Way): number => change[from][state] + cost

/** Cost of the way to the final state. */
export const finalChange = ({ change, final }: Machine, from: number): number => (final === undefined ? 0 : change[from][final])

/** Cheapest ways between all states: R. W. Floyd, CACM 5 (1962). */
export function shortest(direct: readonly (readonly number[])[]): number[][] {
  const cost = direct.map((row) => [...row])
  for (const [via, onward] of cost.entries())
    for (const row of cost) for (const [to, rest] of onward.entries()) row[to] = Math.min(row[to], row[via] + rest)
  return cost
}

/**
 * Cheapest changes when every test that moves the machine may be used to move it, at a share of its cost: with 1 no plan can
 * move it for less; with 0 what it pays for changes alone. For lower bounds.
 */
export function changeByTests({ change, ways }: Machine, share: 0 | 1): number[][] {
  const direct = change.map((row) => [...row])
  for (const { state, cost, leaves } of ways.flat()) direct[state][leaves] = Math.min(direct[state][leaves], share * cost)
  return shortest(direct)
}
