import { describe, expect, test } from 'vitest'
import { chargeAt, unfitCharge } from './charge.js'
import type { Charge } from './types.js'

const charges: Charge[] = [
  { charge: 'linear', capacity: 3e-7 },
  { charge: 'polytropic', capacity: 3e-7, reference: 8e5, exponent: 1.3 },
  { charge: 'stroke', volume: 5e-4, band: 2e5, capacity: 1e-12 },
  { charge: 'accumulator', volume: 1e-3, precharge: 5e6, exponent: 1.2, capacity: 1e-13 },
]

describe.each(charges)('a store $charge', (charge) => {
  test('has the slope of what it holds', () => {
    for (const x of [-1e5, 1.234e5, 3e5, 4.9e6, 7.7e6, 2e7]) {
      const h = 1
      const rise = (chargeAt(charge, x + h).q - chargeAt(charge, x - h).q) / (2 * h)
      expect(chargeAt(charge, x).slope / rise).toBeCloseTo(1, 4)
      expect(rise).toBeGreaterThan(0)
    }
  })
})

test('a gas volume at constant temperature and a polytropic one of exponent 1 are the same', () => {
  for (const x of [1e5, 5e5, 1.2e6]) {
    expect(chargeAt({ charge: 'polytropic', capacity: 2e-7, reference: 4e5, exponent: 1 }, x).q).toBeCloseTo(2e-7 * x, 12)
  }
})

// Boyle's law: an accumulator of 1 l precharged to 50 bar holds half a litre of oil at 100 bar when the gas keeps its temperature.
test('an isothermal accumulator is half full at twice its precharge', () => {
  const q = chargeAt({ charge: 'accumulator', volume: 1e-3, precharge: 5e6, exponent: 1, capacity: 0 }, 1e7).q
  expect(q).toBeCloseTo(5e-4, 12)
})

test('what no store can have is said', () => {
  expect(unfitCharge({ charge: 'linear', capacity: 0 })).toBe("the capacity 0 in its charge 'linear'")
  expect(unfitCharge({ charge: 'accumulator', volume: 1, precharge: 1, exponent: 1, capacity: 0 })).toBeUndefined()
})
