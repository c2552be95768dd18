import { expect, it } from 'vitest'
import { airDensityRatio, fanPower, fanRatios } from './fan.js'
import {
  biot,
  lumpedTimeConstant,
  radiatedHeat,
  sphereLength,
  temperatureAfter,
  timeToTemperature,
  timeUntilLeft,
  warmUpTime,
} from './heat.js'
import { effectiveness, exchangedHeat, transferUnits } from './heat-exchanger.js'

it('a body is at its target when its time is up', () => {
  const time = timeToTemperature(363, 293, 313, 600)
  expect(temperatureAfter(363, 293, 600, time)).toBeCloseTo(313, 10)
  expect(timeUntilLeft(600, Math.exp(-1))).toBeCloseTo(600, 10)
  expect(() => timeToTemperature(363, 293, 283, 600)).toThrow(/share of the step/)
})

it('a time constant is capacity over conductance', () => {
  const length = sphereLength(1e-3)
  expect(lumpedTimeConstant({ density: 8500, heat: 320, length }, 210)).toBeCloseTo(2.1587, 3)
  expect(biot(210, length, 35)).toBeCloseTo(0.001, 12)
  expect(() => lumpedTimeConstant({ density: 8500, heat: 320, length }, 0)).toThrow(/film coefficient/)
})

it('radiation vanishes between equals', () => {
  expect(radiatedHeat(0.9, 1, 300, 300)).toBe(0)
  expect(radiatedHeat(1, 1, 373.15, 293.15)).toBeCloseTo(680.6, 0)
})

it('counterflow beats cross flow beats parallel flow, and none passes more than there is', () => {
  const [counter, cross, parallel] = (['counter', 'cross', 'parallel'] as const).map((kind) => effectiveness(kind, 2, 0.7))
  expect(counter).toBeGreaterThan(cross)
  expect(cross).toBeGreaterThan(parallel)
  expect(effectiveness('counter', 1e3, 0.5)).toBeCloseTo(1, 9)
  expect(effectiveness('parallel', 1e3, 0.5)).toBeCloseTo(1 / 1.5, 9)
  expect(effectiveness('cross', 0, 0.5)).toBe(0)
})

it.each(['counter', 'cross', 'parallel'] as const)('%s flow goes over into one stream that boils', (kind) => {
  expect(effectiveness(kind, 1.5, 1e-7)).toBeCloseTo(effectiveness(kind, 1.5, 0), 6)
  expect(effectiveness(kind, 1.5, 0)).toBeCloseTo(1 - Math.exp(-1.5), 12)
})

it('equal capacity flows are no special case', () => {
  expect(effectiveness('counter', 2, 1 - 1e-7)).toBeCloseTo(effectiveness('counter', 2, 1), 6)
  expect(transferUnits(500, 1000, 250)).toEqual({ ntu: 2, ratio: 0.25 })
  expect(exchangedHeat(0.5, 250, 370, 290)).toBe(10000)
  expect(() => effectiveness('counter', 1, 1.5)).toThrow(/capacity flows/)
  expect(() => transferUnits(1, 0, 1)).toThrow(/hot side/)
})

it('fan laws: power is flow times pressure', () => {
  const ratios = fanRatios(1.3, airDensityRatio(293.15, 373.15))
  expect(ratios.flow * ratios.pressure).toBeCloseTo(ratios.power, 12)
  expect(fanPower(2, 500, 0.5)).toBe(2000)
  expect(() => fanPower(2, 500, 0)).toThrow(/efficiency/)
  expect(() => fanRatios(0)).toThrow(/speeds/)
})

it('warming up takes capacity times rise over power', () => {
  expect(warmUpTime(1e5, 60, 30e3)).toBe(200)
  expect(() => warmUpTime(1e5, 60, 0)).toThrow(/the power/)
})
