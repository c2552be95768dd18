import { expect, it } from 'vitest'
import { FAILURE_MODE_IDENTIFIERS, TROUBLE_CODE_BITS } from './failure-mode-identifiers.js'
import { KINDS } from '../registry.js'
import { CLASS_LETTERS, FLUID_LETTERS, MAIN_CLASSES } from './reference-letters.js'
import { relayTerminals, TERMINAL_NUMBERS } from './terminal-numbers.js'

it.each(Object.entries({ FAILURE_MODE_IDENTIFIERS, TERMINAL_NUMBERS, MAIN_CLASSES, CLASS_LETTERS, FLUID_LETTERS }))(
  '%s gives no two codes one meaning',
  (_, list) => {
    const meanings = Object.values(list)
    expect(new Set(meanings).size).toBe(meanings.length)
  },
)

it('an identifier that fits its bits has a meaning or is reserved', () => {
  for (const code of Object.keys(FAILURE_MODE_IDENTIFIERS)) expect(Number(code)).toBeLessThan(2 ** TROUBLE_CODE_BITS.identifier)
  expect(FAILURE_MODE_IDENTIFIERS[4]).toMatch(/low/)
})

it('every kind of part has a letter of a main class', () => {
  for (const kind of KINDS.values()) expect(Object.keys(MAIN_CLASSES)).toContain(kind.letter)
})

// EN 50005: second contact of a relay is 21, 22, 24.
it('contacts of a relay are numbered by their place', () => {
  expect(relayTerminals(2)).toEqual({ coil: ['A1', 'A2'], common: '21', normallyClosed: '22', normallyOpen: '24' })
})
