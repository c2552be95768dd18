import { expect, it } from 'vitest'
import { freeAirFusingCurrent, heatingIntegral, meltingCurrent } from './wire-fusing.js'

const AWG_16 = 1.31e-6

it('a hotter wire melts sooner, and 234 - Ta is not used', () => {
  expect(meltingCurrent(AWG_16, 5, 373.15)).toBeLessThan(meltingCurrent(AWG_16, 5))
  expect(meltingCurrent(AWG_16, 5)).toBeCloseTo(169, 0)
  expect(() => meltingCurrent(AWG_16, 0)).toThrow(/the time/)
  expect(() => meltingCurrent(AWG_16, 5, 1400)).toThrow(/rise to melting/)
})

it('both short-time formulas agree on heating to the melting point within a hundredth', () => {
  const integral = heatingIntegral(AWG_16, 298.15, 1083 + 273.15)
  expect(Math.sqrt(integral / 5) / meltingCurrent(AWG_16, 5)).toBeCloseTo(1, 1)
  expect(() => heatingIntegral(AWG_16, 400, 300)).toThrow(/rise of temperature/)
})

it('in the end, in free air, much less melts it', () => {
  const diameter = Math.sqrt((4 * AWG_16) / Math.PI)
  expect(freeAirFusingCurrent(diameter)).toBeLessThan(meltingCurrent(AWG_16, 5))
  expect(() => freeAirFusingCurrent(-1)).toThrow(/diameter of the wire/)
})
