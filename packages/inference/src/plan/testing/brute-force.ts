/** Planning by trying everything: the judge of the search on tiny tasks. Shares no code with it. */

import type { IsolationTask } from '../isolation-task.js'
import type { RepairTask } from '../repair-task.js'

const add = (numbers: number[]): number => numbers.reduce((sum, one) => sum + one, 0)

/** Cheapest changes by relaxing as often as there are states. */
function changes(direct: readonly (readonly (number | null)[])[]): number[][] {
  let cost = direct.map((row, i) => row.map((one, j) => (i === j ? 0 : (one ?? Number.POSITIVE_INFINITY))))
  for (let round = 0; round < direct.length; round++)
    cost = cost.map((row) => row.map((_, to) => Math.min(...row.map((first, via) => first + cost[via][to]))))
  return cost
}

/** Least expected cost of isolation, by recursion over all tests and states. */
export function bruteIsolation({ suspects, tests, machine }: IsolationTask): number {
  const { names, changeCost, start, final } = machine ?? { names: ['one'], changeCost: [[0]], start: 'one', final: undefined }
  const change = changes(changeCost)
  const row = (i: number) => tests.map(({ outcomes }) => outcomes[i]).join()
  const repair = (i: number) => suspects[i].repair ?? `own ${i}`
  const best = (set: number[], state: number): number => {
    const isDone = new Set(set.map(row)).size === 1 || new Set(set.map(repair)).size === 1
    if (isDone) return final === undefined ? 0 : change[state][names.indexOf(final)]
    const weight = add(set.map((i) => suspects[i].weight))
    const costs = tests.flatMap(({ outcomes, cost, leavesState }) => {
      const parts = [...new Set(set.map((i) => outcomes[i]))].map((outcome) => set.filter((i) => outcomes[i] === outcome))
      if (parts.length === 1) return []
      return names.flatMap((name, at) => {
        const price = typeof cost === 'number' ? cost : cost[name]
        if (price === undefined) return []
        const next = leavesState === undefined ? at : names.indexOf(leavesState)
        const after = parts.map((part) => (add(part.map((i) => suspects[i].weight)) / weight) * best(part, next))
        return [change[state][at] + price + add(after)]
      })
    })
    return Math.min(...costs)
  }
  return best(
    suspects.map((_, i) => i),
    names.indexOf(start),
  )
}

/** Least expected cost of a repair without machine states, by recursion over beliefs. */
export function bruteRepair({ parts, worlds, tests }: RepairTask): number {
  const priceOf = ({ cost }: { cost: unknown }) => cost as number
  const outcomeOf = (test: number, faulty: readonly number[], outcome: number): number => {
    const upTo = (r: number) => faulty.reduce((all, part) => all * add(tests[test].rows[part].slice(0, r + 1)), 1)
    return upTo(outcome) - (outcome === 0 ? 0 : upTo(outcome - 1))
  }
  const isSure = tests.map(({ rows }) => rows.flat().every((p) => p === 0 || p === 1))
  const best = (belief: { faulty: readonly number[]; weight: number }[], done: readonly number[]): number => {
    const total = add(belief.map(({ weight }) => weight))
    const replacing = parts.flatMap((part, i) => {
      if (!belief.some(({ faulty }) => faulty.includes(i))) return []
      const after = belief
        .map(({ faulty, weight }) => ({ faulty: faulty.filter((one) => one !== i), weight }))
        .filter(({ faulty }) => faulty.length > 0)
      return [priceOf(part) + (after.length === 0 ? 0 : (add(after.map(({ weight }) => weight)) / total) * best(after, done))]
    })
    const testing = tests.flatMap((test, t) => {
      if (done.includes(t)) return []
      const after = test.rows[0].map((_, outcome) =>
        belief
          .map(({ faulty, weight }) => ({ faulty, weight: weight * outcomeOf(t, faulty, outcome) }))
          .filter(({ weight }) => weight > 1e-15),
      )
      if (isSure[t] && after.some((left) => left.length === belief.length)) return []
      const left = after.filter((one) => one.length > 0)
      const next = isSure[t] ? done : [...done, t]
      return [priceOf(test) + add(left.map((one) => (add(one.map(({ weight }) => weight)) / total) * best(one, next)))]
    })
    return Math.min(...replacing, ...testing)
  }
  return best([...worlds], [])
}
