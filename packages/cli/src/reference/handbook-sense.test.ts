import { expect, it } from 'vitest'
import { sameSense } from './handbook-sense.js'

const list = ['voltage too high', 'voltage too low', 'circuit open', 'pump', 'turn-signal lamp, left', 'turn-signal lamp, right']

it('another wording of the entry is the same sense', () => {
  expect(sameSense('the voltage is high', 'voltage too high', list)).toBe('same')
  expect(sameSense('open circuits', 'circuit open', list)).toBe('same')
})

it('a swapped or another sense is not', () => {
  expect(sameSense('the voltage is low', 'voltage too high', list)).toBe('other')
  expect(sameSense('left lamp of the turn signal', 'turn-signal lamp, right', list)).toBe('other')
  expect(sameSense('circuit open', 'pump', list)).toBe('other')
})

it('a text without the word that tells twins apart is unclear', () => {
  expect(sameSense('turn-signal lamp', 'turn-signal lamp, right', list)).toBe('unclear')
})

it('with no word in common nothing can be said', () => {
  expect(sameSense('tension trop haute', 'voltage too high', list)).toBe('unclear')
})
