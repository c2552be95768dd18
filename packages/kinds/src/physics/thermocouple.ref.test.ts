import { expect, it } from 'vitest'
import { typeKTemperature, typeKVoltage } from './thermocouple.js'

// NIST ITS-90 table of type K, cold junction at 0 degC, mV to three decimals (-200, 100, 1000 and 1372 degC from memory).
it.each([
  [-200, -5.891],
  [0, 0],
  [100, 4.096],
  [1000, 41.276],
  [1372, 54.886],
])('type K at %s degC', (celsius, millivolts) => {
  expect(Math.abs(1e3 * typeKVoltage(celsius + 273.15) - millivolts)).toBeLessThan(0.0006)
})

it('both pieces of the curve meet at 0 degC', () => {
  expect(Math.abs(typeKVoltage(273.15 + 1e-9) - typeKVoltage(273.15 - 1e-9))).toBeLessThan(1e-9)
})

it.each([-250, -40, 25, 95, 1300])('%s degC is found again from its voltage, with a warm cold junction', (celsius) => {
  const cold = 298.15
  expect(typeKTemperature(typeKVoltage(celsius + 273.15, cold), cold)).toBeCloseTo(celsius + 273.15, 6)
})

it('outside the reference function it says so', () => {
  expect(() => typeKVoltage(2000)).toThrow(/hot junction/)
  expect(() => typeKTemperature(0.06)).toThrow(/voltage of the thermocouple/)
})
