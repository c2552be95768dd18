import { createRandom } from '@halfsplit/core'
import { faultModes } from '@halfsplit/diagnosis'
import { expect, test } from 'vitest'
import { makingOf, modeKey, takenOut, without, wrongRates } from './mismatch.js'
import { lamp } from './testing/lamp.js'

const system = lamp()

test('wide tolerances reach three standard deviations and no further', () => {
  const { spread } = makingOf('tolerances', createRandom('making'))
  const random = createRandom('parts')
  const drawn = Array.from({ length: 2000 }, () => spread(random))
  expect(Math.max(...drawn.map(Math.abs))).toBeLessThan(3)
  expect(Math.max(...drawn)).toBeGreaterThan(2.9)
  // Uniform over six: sd 6 / sqrt(12).
  const sd = Math.sqrt(drawn.reduce((sum, z) => sum + z * z, 0) / drawn.length)
  expect(sd).toBeCloseTo(Math.sqrt(3), 1)
})

test('a meter that is off is off by all its maker allows, the same way in every range', () => {
  const sides = new Set(Array.from({ length: 30 }, (_, n) => makingOf('meter', createRandom(n)).meterError(createRandom('own'))))
  expect(sides).toEqual(new Set([-1, 1]))
  const { meterError } = makingOf('meter', createRandom('one'))
  expect(meterError(createRandom('a'))).toBe(meterError(createRandom('b')))
})

test('rates are wrong by three either way, alike for one mode of one kind', () => {
  const factors = new Set(faultModes(system).map(wrongRates('one')))
  expect(factors).toEqual(new Set([3, 1 / 3]))
})

test('what is taken out is gone from the description, and nothing else changes its rate', () => {
  const missing = new Set(['G1.open', 'E1.filament_open'])
  const told = without(system, missing)
  const rates = (of: typeof system) => new Map(faultModes(of).map(({ id, rate }) => [id, rate]))
  const [before, after] = [rates(system), rates(told)]
  expect([...before.keys()].filter((id) => !after.has(id)).sort()).toEqual([...missing].sort())
  for (const [id, rate] of after) expect(rate).toBeCloseTo(before.get(id) ?? 0, 15)
  expect(told.hash).not.toBe(system.hash)
})

test('three in a hundred are taken out, one at least, and the same for the same seed', () => {
  const faults = faultModes(system)
  const out = takenOut(faults, 'one')
  expect(out.size).toBe(Math.max(1, Math.round(0.03 * faults.length)))
  expect(takenOut(faults, 'one')).toEqual(out)
  const names = new Set(faults.map(({ part, mode }) => modeKey(part.name, mode.id)))
  for (const name of out) expect(names.has(name)).toBe(true)
})
