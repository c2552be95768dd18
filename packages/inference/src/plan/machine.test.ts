import { expect, test } from 'vitest'
import { changeByTests, finalChange, machineOf, priceOf } from './machine.js'

const STATES = {
  names: ['cold', 'running', 'hot'],
  changeCost: [
    [0, 1, null],
    [2, 0, 10],
    [60, null, 0],
  ],
  start: 'cold',
  final: 'cold',
}

test('a change without a direct way goes over other states, at the sum', () => {
  const machine = machineOf(STATES, [])
  expect(machine.change).toEqual([
    [0, 1, 11],
    [2, 0, 10],
    [60, 61, 0],
  ])
  expect(finalChange(machine, 2)).toBe(60)
})

test('a test costs its change and itself; one number holds for every state', () => {
  const machine = machineOf(STATES, [{ cost: { hot: 3 } }, { cost: 4 }])
  expect(machine.ways[0].map((way) => priceOf(machine, 0, way))).toEqual([14])
  expect(machine.ways[1].map((way) => priceOf(machine, 0, way))).toEqual([4, 5, 15])
})

test('a test that heats the machine may be the cheapest way to heat it', () => {
  const machine = machineOf(STATES, [{ cost: { cold: 5 }, leavesState: 'hot' }])
  expect(changeByTests(machine, 1)[0][2]).toBe(5)
  expect(changeByTests(machine, 0)[0][2]).toBe(0)
  expect(machine.change[0][2]).toBe(11)
})

test('an unknown state and a cost below zero are refused by name', () => {
  expect(() => machineOf({ ...STATES, start: 'warm' }, [])).toThrow("no state 'warm' among cold, running, hot")
  expect(() => machineOf(STATES, [{ cost: { hot: 3 }, leavesState: 'wet' }])).toThrow("no state 'wet'")
  expect(() => machineOf(STATES, [{ cost: -1 }])).toThrow('the cost of an action')
  expect(() => machineOf(STATES, [{ cost: Number.NaN }])).toThrow('the cost of an action')
})
