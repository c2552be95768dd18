import { expect, test } from 'vitest'
import { minutesFor, stateMinutes } from './effort.js'
import { system, testNamed } from './testing/relay-lamp.js'

// Minutes of the states in the description: key 1, on 0.5 more, warm 10 more.
test('a way into a state takes the minutes of every step of its recipe', () => {
  expect(stateMinutes(system, 'off', 'key')).toBe(1)
  expect(stateMinutes(system, 'off', 'on')).toBe(1.5)
  expect(stateMinutes(system, 'on', 'on')).toBe(0)
})

test('a way back takes half, and what both states share costs nothing', () => {
  expect(stateMinutes(system, 'warm', 'key')).toBe(5)
  expect(stateMinutes(system, 'warm', 'on')).toBe(5 + 0.5)
})

test('getting to a place counts once, a plug is pulled and put back', () => {
  const inBox = { setup: { state: 'on' }, places: ['box'] }
  const elsewhere = { setup: { state: 'on' }, places: [] }
  const volts = testNamed('on: volts X1.1/b BAT.minus')
  expect(minutesFor(system, volts, inBox)).toBe(volts.minutes)
  expect(minutesFor(system, volts, elsewhere)).toBe(volts.minutes + 2)
  const pulled = testNamed('on + unplug X1: volts X1.1/a BAT.minus')
  expect(minutesFor(system, pulled, inBox)).toBe(pulled.minutes + 1.5)
  expect(minutesFor(system, volts, { ...inBox, setup: pulled.setup })).toBe(volts.minutes + 0.75)
})
