import { ASSUMPTIONS } from '@halfsplit/core'
import { expect, test } from 'vitest'
import { PROVOCATIONS, presentUnder, provokes } from './provoke.js'
import { bench, faultNamed } from './testing/relay-lamp.js'

const loose = faultNamed('X1.1.intermittent_contact')
const strands = faultNamed('4.intermittent_open')
const relay = faultNamed('K1.intermittent')

test('a wiggled plug shows its loose contact more often, by its own name and by that of its plug', () => {
  expect(presentUnder(loose, [{ how: 'wiggle', parts: ['X1'] }], 0.3)).toBe(ASSUMPTIONS.provokedPresent)
  expect(presentUnder(loose, [{ how: 'wiggle', parts: ['X1.1'] }], 0.3)).toBe(ASSUMPTIONS.provokedPresent)
  expect(presentUnder(loose, [{ how: 'wiggle', parts: ['K1'] }], 0.3)).toBe(0.3)
  expect(presentUnder(loose, [], 0.3)).toBe(0.3)
})

test('what is there nearly always does not become rarer', () => {
  expect(presentUnder(loose, [{ how: 'wiggle', parts: ['X1'] }], 0.98)).toBe(0.98)
})

test('a tap reaches a relay and not a wire; warmth reaches cracked solder and not broken strands', () => {
  expect(provokes('tap', relay)).toBe(true)
  expect(provokes('tap', strands)).toBe(false)
  expect(provokes('wiggle', strands)).toBe(true)
  expect(provokes('warm', relay)).toBe(true)
  expect(provokes('warm', strands)).toBe(false)
})

test('nothing provokes a fault that is always there', () => {
  for (const fault of bench.faults.filter(({ mode }) => !mode.intermittent))
    for (const how of PROVOCATIONS) expect(provokes(how, fault)).toBe(false)
})
