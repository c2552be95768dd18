import { expect, it } from 'vitest'
import { warnsOf } from './hazards.js'

it.each([
  ['the fan starts by itself; keep clear of it', 'the fan starts by itself', true],
  ['Keep clear: the fan can start without warning.', 'the fan starts by itself', true],
  ['belts and hot parts on the running engine', 'belts', true],
  ['belts and hot parts on the running engine', 'the fan starts by itself', false],
  ['nobody near the engine while it cranks', 'the engine cranks and can fire: nobody near belts, fan and tracks', true],
  ['wear gloves', 'the engine cranks and can fire: nobody near belts, fan and tracks', false],
])('"%s" warns of "%s": %s', (warning, text, speaks) => {
  expect(warnsOf(warning, { text })).toBe(speaks)
})

it.each([
  ['air under pressure', 'pressure', true],
  ['the fan can start at any moment', 'starts by itself', true],
  ['hot parts', 'moving parts', false],
])('"%s" warns of %s: %s', (warning, title, speaks) => {
  expect(warnsOf(warning, { text: '', title })).toBe(speaks)
})
