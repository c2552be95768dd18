import { expect, it } from 'vitest'
import { contactDrop, hottestPullIn, pullInAt } from './relay-contact.js'

it('the hottest coil that a voltage pulls in needs just that voltage', () => {
  expect(pullInAt(8, hottestPullIn(9.6, 8))).toBeCloseTo(9.6, 9)
  expect(pullInAt(8, 296.15)).toBeCloseTo(8, 12)
})

it('a closed contact may lose 0.25 V at 10 A', () => {
  expect(contactDrop(10)).toBeCloseTo(0.25, 12)
  expect(() => contactDrop(-1)).toThrow(/the current/)
  expect(() => pullInAt(0, 300)).toThrow(/pull-in voltage/)
})
