/** Small planning tasks for property tests. */

import fc from 'fast-check'
import { faultWorlds } from '../fault-worlds.js'
import type { IsolationTask, PlanTest } from '../isolation-task.js'
import type { MachineStates } from '../machine.js'
import type { RepairTask } from '../repair-task.js'

const costs = fc.double({ min: 0.5, max: 20, noNaN: true })
const weights = fc.double({ min: 0.01, max: 1, noNaN: true })

const STATES = ['cold', 'running', 'hot']

/** A way round over all states always exists, so that every plan can be ended. */
const machines: fc.Arbitrary<MachineStates> = fc
  .record({ around: fc.tuple(costs, costs, costs), back: fc.option(costs), final: fc.constantFrom(undefined, ...STATES) })
  .map(({ around, back, final }) => ({
    names: STATES,
    changeCost: [
      [0, around[0], null],
      [back, 0, around[1]],
      [around[2], null, 0],
    ],
    start: 'cold',
    final,
  }))

const stateCosts = fc
  .tuple(fc.constantFrom(...STATES), fc.dictionary(fc.constantFrom(...STATES), costs, { maxKeys: 2 }), costs)
  .map(([name, others, cost]) => ({ ...others, [name]: cost }))

/** Tasks with and without machine states, with and without shared repairs. */
export const isolationTasks = ({ suspects: most = 5, tests: mostTests = 4 } = {}): fc.Arbitrary<IsolationTask> =>
  fc.tuple(fc.integer({ min: 1, max: most }), fc.boolean()).chain(([count, hasStates]) => {
    const test = fc.record({
      cost: hasStates ? stateCosts : costs,
      leavesState: hasStates ? fc.constantFrom(undefined, undefined, ...STATES) : fc.constant(undefined),
      outcomes: fc.array(fc.constantFrom(0, 0, 1, 1, 7), { minLength: count, maxLength: count }),
    })
    return fc.record({
      suspects: fc
        .array(fc.record({ weight: weights, repair: fc.constantFrom(undefined, undefined, 'seal', 'coil') }), {
          minLength: count,
          maxLength: count,
        })
        .map((list) => list.map((one, i) => ({ id: `H${i}`, ...one }))),
      tests: fc
        .array(test, { minLength: 1, maxLength: mostTests })
        .map((list): PlanTest[] => list.map((one, i) => ({ id: `T${i}`, ...one }))),
      machine: hasStates ? machines : fc.constant(undefined),
    })
  })

/** Repairs of two to four parts, single faults or pairs as well, tests sure or noisy. */
export const repairTasks: fc.Arbitrary<RepairTask> = fc
  .record({ count: fc.integer({ min: 2, max: 4 }), most: fc.constantFrom(1, 2), isSure: fc.boolean() })
  .chain(({ count, most, isSure }) => {
    const row = isSure
      ? fc.constantFrom<number[]>([1, 0, 0], [0, 1, 0], [0, 0, 1])
      : fc.tuple(weights, weights, weights).map((three) => three.map((one) => one / (three[0] + three[1] + three[2])))
    return fc.record({
      parts: fc
        .array(costs, { minLength: count, maxLength: count })
        .map((list) => list.map((cost, i) => ({ id: `P${i}`, cost }))),
      worlds: fc
        .array(fc.double({ min: 0.01, max: 0.5, noNaN: true }), { minLength: count, maxLength: count })
        .map((priors) => faultWorlds(priors, most)),
      tests: fc
        .array(fc.record({ cost: costs.map((cost) => cost / 4), rows: fc.array(row, { minLength: count, maxLength: count }) }), {
          maxLength: 2,
        })
        .map((list) => list.map((one, i) => ({ id: `T${i}`, ...one }))),
    })
  })
