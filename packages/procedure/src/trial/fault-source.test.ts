import { createRandom } from '@halfsplit/core'
import { faultModes } from '@halfsplit/diagnosis'
import { expect, test } from 'vitest'
import { FaultSource } from './fault-source.js'
import { lamp } from './testing/lamp.js'

const system = lamp()
const source = FaultSource.of(system)

test('faults come as often as their rates say', () => {
  const modes = faultModes(system)
  const rate = (part: string) => modes.filter((one) => one.part.name === part).reduce((sum, one) => sum + one.rate, 0)
  const whole = modes.reduce((sum, one) => sum + one.rate, 0)
  const random = createRandom('rates')
  const drawn = Array.from({ length: 4000 }, () => source.one(random).part)
  for (const part of ['E1', 'G1', 'S1']) {
    const share = rate(part) / whole
    const spread = Math.sqrt((share * (1 - share)) / drawn.length)
    expect(Math.abs(drawn.filter((one) => one === part).length / drawn.length - share)).toBeLessThan(4 * spread)
  }
})

test('sizes lie within the range of their mode, its ends reached', () => {
  const random = createRandom('sizes')
  const { severity } = faultModes(system).find(({ id }) => id === 'G1.high_resistance') ?? {}
  const nodes = severity?.nodes ?? []
  const step = Math.sqrt(nodes[1] / nodes[0])
  const sizes = Array.from({ length: 4000 }, () => source.one(random))
    .filter(({ part, mode }) => part === 'G1' && mode === 'high_resistance')
    .map((fault) => fault.severity ?? Number.NaN)
  expect(Math.min(...sizes)).toBeGreaterThan(nodes[0] / step)
  expect(Math.max(...sizes)).toBeLessThan((nodes.at(-1) ?? 0) * step)
  expect(Math.min(...sizes)).toBeLessThan(nodes[0])
  expect(Math.max(...sizes)).toBeGreaterThan(nodes.at(-1) ?? 0)
})

test('two faults are in different parts', () => {
  const random = createRandom('two')
  for (let n = 0; n < 200; n += 1) {
    const [first, second] = source.two(random)
    expect(first.part).not.toBe(second.part)
  }
})

test('two at once are about as rare as half the chance of one', () => {
  const chance = faultModes(system).reduce((sum, one) => sum + one.rate / 12, 0)
  expect(source.shareOfTwo).toBeGreaterThan(0)
  expect(source.shareOfTwo).toBeLessThan(chance / 2)
})

test('what is kept is all that is drawn, and nothing kept is no source', () => {
  const grounds = source.only(({ part }) => part.name === 'G1')
  const random = createRandom('only')
  expect(new Set(Array.from({ length: 50 }, () => grounds?.one(random).part))).toEqual(new Set(['G1']))
  expect(source.only(() => false)).toBeUndefined()
})

test('a rate that is wrong changes how often its faults come', () => {
  const many = FaultSource.of(system, ({ part }) => (part.name === 'F1' ? 1e6 : 1))
  const random = createRandom('wrong')
  const parts = Array.from({ length: 200 }, () => many.one(random).part)
  expect(parts.filter((part) => part === 'F1').length).toBeGreaterThan(150)
  expect(many.likeliestRepairs()[0]).toMatch(/ F1$/)
})

test('a fault that a repair cures is drawn for it', () => {
  const random = createRandom('cured')
  expect(source.curedBy('clean G1', random).part).toBe('G1')
})
