import { expect, it } from 'vitest'
import { speaksOf } from './hazards.js'

it.each([
  ['the fan starts by itself; keep clear of it', 'the fan starts by itself', true],
  ['Keep clear: the fan can start without warning.', 'the fan starts by itself', true],
  ['belts and hot parts on the running engine', 'belts', true],
  ['belts and hot parts on the running engine', 'the fan starts by itself', false],
  ['air under pressure', 'R1: pressure', true],
  ['nobody near the engine while it cranks', 'the engine cranks and can fire: nobody near belts, fan and tracks', true],
  ['wear gloves', 'the engine cranks and can fire: nobody near belts, fan and tracks', false],
])('"%s" warns of "%s": %s', (warning, hazard, speaks) => {
  expect(speaksOf(warning, hazard)).toBe(speaks)
})
