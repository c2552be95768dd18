import { createRandom } from '@halfsplit/core'
import { parseSystem, type System } from '@halfsplit/system'
import { expect, test } from 'vitest'
import { asBuilt, Draws } from './draws.js'

const TEXT = `halfsplit: 1
machine: lamp and coolant switch
invented: true
parts:
  BAT: { kind: battery }
  TS1: { kind: temperature-switch, trip: 90 degC +- 3 K, reset: 83 degC +- 3 K }
  COOL: { kind: coolant }
  E1: { kind: lamp, power: 21 W, voltage: 12 V }
joins:
  - [BAT.plus, TS1.a]
  - [TS1.b, E1.feed]
  - [E1.ground, BAT.minus]
  - [TS1.sense, COOL.liquid]
states:
  cold: { dead: true }
  hot: { from: cold, set: { COOL.temperature: 95 degC +- 2 K } }
`
const parsed = parseSystem(TEXT, 'draws.yaml')
const system = parsed.system as System

const changed = (before: Float64Array, after: Float64Array): string[] =>
  system.latents.filter(({ index }) => before[index] !== after[index]).map(({ part, rating }) => `${part}.${rating}`)

test('another specimen of a part draws its own ratings anew, and nothing else', () => {
  const draws = new Draws(system, createRandom('renew'))
  const before = Float64Array.from(draws.z)
  draws.renew('TS1')
  expect(changed(before, draws.z).every((name) => name.startsWith('TS1.'))).toBe(true)
  expect(changed(before, draws.z)).toContain('TS1.trip')
})

test('what the machine imposes on a part stays when the part is replaced', () => {
  const draws = new Draws(system, createRandom('coolant'))
  const before = Float64Array.from(draws.z)
  draws.renew('COOL')
  expect(changed(before, draws.z)).not.toContain('COOL.=temperature')
})

test('a like part tried in its place is the same specimen each time, and goes back out again', () => {
  const draws = new Draws(system, createRandom('spare'))
  const before = Float64Array.from(draws.z)
  expect(draws.withSpare('E1')).toEqual(draws.withSpare('E1'))
  expect(changed(before, draws.withSpare('E1')).every((name) => name.startsWith('E1.'))).toBe(true)
  expect(draws.z).toEqual(before)
})

test('a switch drawn with its reset above its trip has no gap between the two; every other keeps its own', () => {
  const at = (rise: number, fall: number) => ({ type: 'threshold', id: 'tripped', a: 'n', b: '0', scale: 1, rise, fall }) as const
  expect(asBuilt([at(343, 345), at(363, 356)])).toEqual([at(343, 343), at(363, 356)])
})
