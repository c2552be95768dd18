/** Small troubleshooting tables for property tests, and their least cost by trying everything. */

import fc from 'fast-check'
import type { TroubleTask } from '../troubleshoot/task.js'

const chance = fc.integer({ min: 1, max: 100 }).map((percent) => percent / 100)
const time = fc.integer({ min: 1, max: 20 }).map((halves) => halves / 2)

const rowOf = (outcomes: number) =>
  fc.oneof(
    fc.integer({ min: 0, max: outcomes - 1 }).map((at) => Array.from({ length: outcomes }, (_, o) => Number(o === at))),
    fc.array(chance, { minLength: outcomes, maxLength: outcomes }).map((row) => {
      const sum = row.reduce((total, one) => total + one, 0)
      return row.map((one) => one / sum)
    }),
  )

/** Changes and ways are distances of points on a line: no way round is shorter. */
const distances = (count: number) =>
  fc
    .array(fc.double({ min: 0, max: 5, noNaN: true }), { minLength: count, maxLength: count })
    .map((at) => at.map((one) => at.map((other) => Math.abs(one - other))))

export const troubleTasks = ({ suspects: most = 4, tests: mostTests = 3 } = {}): fc.Arbitrary<TroubleTask> =>
  fc
    .record({
      repairs: fc.integer({ min: 1, max: 3 }),
      count: fc.integer({ min: 1, max: most }),
      isSound: fc.boolean(),
      isPair: fc.boolean(),
      tests: fc.integer({ min: 0, max: mostTests }),
    })
    .chain(({ repairs, count, isSound, isPair, tests }) => {
      // A pair of the first two repairs, which becomes a single suspect of the other one.
      const pairs = isPair && repairs > 1 && count > 1 ? 1 : 0
      const rest = count + Number(isSound)
      const total = rest + pairs
      const suspects = fc.array(fc.record({ weight: chance, missed: fc.double({ min: 0, max: 0.4, noNaN: true }) }), {
        minLength: total,
        maxLength: total,
      })
      const test = fc.integer({ min: 2, max: 3 }).chain((outcomes) =>
        fc.record({
          outcomes: fc.constant(outcomes),
          state: fc.integer({ min: 0, max: 1 }),
          place: fc.integer({ min: 0, max: 1 }),
          time,
          rows: fc.array(rowOf(outcomes), { minLength: total, maxLength: total }),
        }),
      )
      return fc
        .record({
          suspects,
          tests: fc.array(test, { minLength: tests, maxLength: tests }),
          repairs: fc.array(
            fc.record({ place: fc.constantFrom(undefined, 0, 1), time, price: fc.integer({ min: 0, max: 60 }) }),
            {
              minLength: repairs,
              maxLength: repairs,
            },
          ),
          changes: distances(2),
          ways: distances(2),
          badNewPart: fc.constantFrom(0, 0.02),
          comeback: fc.record({ time, price: fc.integer({ min: 0, max: 300 }) }),
        })
        .map(({ suspects: drawn, tests: drawnTests, repairs: drawnRepairs, ...others }) => ({
          suspects: drawn.map((one, s) => ({
            id: `H${s}`,
            ...one,
            ...(s < count ? { needs: [s % repairs] } : s < rest ? { needs: [] } : { needs: [0, 1], then: [1, 0] }),
          })),
          tests: drawnTests.map(({ rows, ...one }, t) => ({ id: `T${t}`, ...one, chances: Float64Array.from(rows.flat()) })),
          repairs: drawnRepairs.map((one, r) => ({ id: `R${r}`, ...one })),
          start: { state: 0, place: 0 },
          proof: { state: 1, place: 0, time: 2 },
          timeCost: 1.2,
          ...others,
        }))
    })

/** Least expected cost per unit of weight, by recursion over all that can be done. Shares no code with the search. */
export function bruteTrouble(task: TroubleTask): number {
  const { suspects, tests, repairs, changes, ways, proof, timeCost, comeback, badNewPart } = task
  const priceOf = (r: number, state: number, place: number): number => {
    const at = repairs[r].place ?? place
    return (
      (ways[place][at] + repairs[r].time + changes[state][proof.state] + ways[at][proof.place] + proof.time) * timeCost +
      repairs[r].price
    )
  }
  const again = repairs.map((_, r) => priceOf(r, proof.state, proof.place))
  const wrong = suspects.map(({ needs }) =>
    needs.length === 0
      ? 0
      : needs.reduce((sum, r) => sum + again[r] * (1 + badNewPart), comeback.time * timeCost + comeback.price),
  )
  const best = (weights: readonly number[], state: number, place: number, done: readonly number[]): number => {
    const whole = weights.reduce((sum, one) => sum + one, 0)
    if (!(whole > 1e-14)) return 0
    let least = weights.reduce((sum, one, s) => sum + one * wrong[s], 0)
    for (const [t, test] of tests.entries()) {
      if (done.includes(t)) continue
      let cost = whole * (changes[state][test.state] + ways[place][test.place] + test.time) * timeCost
      for (let o = 0; o < test.outcomes; o++)
        cost += best(
          weights.map((one, s) => one * test.chances[s * test.outcomes + o]),
          test.state,
          test.place,
          [...done, t],
        )
      least = Math.min(least, cost)
    }
    for (const r of repairs.keys()) {
      if (!suspects.some(({ needs }, s) => weights[s] > 0 && needs.includes(r))) continue
      let cost = whole * priceOf(r, state, place)
      const after = suspects.map(() => 0)
      for (const [s, { needs, then }] of suspects.entries()) {
        if (needs.length === 0) continue
        const i = needs.indexOf(r)
        if (i >= 0) cost += weights[s] * badNewPart * again[r]
        const left = i < 0 ? s : needs.length === 1 ? undefined : (then?.[i] as number)
        if (left === undefined) continue
        cost += weights[s] * suspects[left].missed * wrong[left]
        after[left] += weights[s] * (1 - suspects[left].missed)
      }
      least = Math.min(least, cost + best(after, proof.state, proof.place, done))
    }
    return least
  }
  const weights = suspects.map(({ weight }) => weight)
  return best(weights, task.start.state, task.start.place, []) / weights.reduce((sum, one) => sum + one, 0)
}
