import { expect, it } from 'vitest'
import {
  betaFrom,
  steinhartResistance,
  steinhartTemperature,
  THERMISTOR_10K,
  thermistorResistance,
  thermistorTemperature,
} from './thermistor.js'

const sender = { r25: 2500, beta: 3400 }

it('a thermistor has its stated resistance at 25 degC and less when hot', () => {
  expect(thermistorResistance(sender, 298.15)).toBe(2500)
  expect(thermistorResistance(sender, 373.15)).toBeLessThan(260)
})

it('reading and temperature turn round', () => {
  expect(thermistorTemperature(sender, thermistorResistance(sender, 353.15))).toBeCloseTo(353.15, 9)
  expect(steinhartTemperature(THERMISTOR_10K, steinhartResistance(THERMISTOR_10K, 353.15))).toBeCloseTo(353.15, 9)
})

it('beta of two readings of a beta thermistor is its beta', () => {
  const at = (t: number) => thermistorResistance(sender, t)
  expect(betaFrom(at(298.15), 298.15, at(358.15), 358.15)).toBeCloseTo(3400, 8)
})

it('no thermistor has no resistance', () => {
  expect(() => thermistorTemperature(sender, 0)).toThrow(/the resistance/)
  expect(() => steinhartTemperature(THERMISTOR_10K, -1)).toThrow(/the resistance/)
  expect(() => betaFrom(100, 300, 200, 350)).toThrow(/beta/)
})
