import fc from 'fast-check'
import { expect, test } from 'vitest'
import { boilingPoint } from './coolant.js'
import { FUSE_LINKS, openingTime } from './fuse-curve.js'
import { passageFlow } from './gas-flow.js'
import { fillTime, ventTime } from './gas-volume.js'
import { effectiveness } from './heat-exchanger.js'
import { chargeAtRest, restVoltage } from './lead-battery.js'
import { platinumResistance, platinumTemperature } from './resistance-thermometer.js'
import { saturationPressure, saturationTemperature } from './steam.js'
import { thermistorResistance, thermistorTemperature } from './thermistor.js'
import { typeKTemperature, typeKVoltage } from './thermocouple.js'

const between = (min: number, max: number) => fc.double({ min, max, noNaN: true })
const near = (a: number, b: number, relative: number) => expect(Math.abs(a - b)).toBeLessThanOrEqual(relative * Math.abs(b))

test('a sensor and its reading turn round', () => {
  fc.assert(
    fc.property(between(220, 420), (t) => {
      const ntc = { r25: 2500, beta: 3400 }
      expect(platinumTemperature(platinumResistance(t))).toBeCloseTo(t, 9)
      expect(typeKTemperature(typeKVoltage(t))).toBeCloseTo(t, 6)
      expect(thermistorTemperature(ntc, thermistorResistance(ntc, t))).toBeCloseTo(t, 9)
    }),
  )
})

test('boiling temperature and pressure turn round, and glycol always raises the first', () => {
  fc.assert(
    fc.property(between(280, 640), between(0.01, 0.6), between(5e4, 4e5), (t, glycol, pressure) => {
      near(saturationTemperature(saturationPressure(t)), t, 1e-6)
      expect(boilingPoint(glycol, pressure)).toBeGreaterThan(boilingPoint(0, pressure))
    }),
  )
})

test('charge and rest voltage turn round at any temperature', () => {
  fc.assert(
    fc.property(between(0, 1), between(240, 330), (charge, t) => {
      expect(Math.abs(chargeAtRest(restVoltage(charge, t), t) - charge)).toBeLessThan(1e-9)
    }),
  )
})

test('more current never opens a fuse later, and more surface never passes less heat', () => {
  fc.assert(
    fc.property(between(1, 50), between(1, 2), between(0.01, 10), between(0, 1), (multiple, more, ntu, ratio) => {
      expect(openingTime(FUSE_LINKS.bladeC, multiple * more)).toBeLessThanOrEqual(openingTime(FUSE_LINKS.bladeC, multiple))
      const share = effectiveness('counter', ntu, ratio)
      expect(share).toBeGreaterThanOrEqual(0)
      expect(share).toBeLessThanOrEqual(1)
      expect(effectiveness('counter', ntu * more, ratio)).toBeGreaterThanOrEqual(share * (1 - 1e-12))
    }),
  )
})

test('a bigger tank takes longer in proportion, and a flow never goes uphill', () => {
  fc.assert(
    fc.property(between(0.05, 0.6), between(1.05e5, 9e5), between(1.05e5, 9e5), (critical, a, b) => {
      const valve = { conductance: 1e-8, critical }
      const [low, high] = [Math.min(a, b), Math.max(a, b)]
      near(ventTime(valve, 0.02, high, low), 2 * ventTime(valve, 0.01, high, low), 1e-9)
      near(fillTime(valve, 0.02, low, high, 9e5), 2 * fillTime(valve, 0.01, low, high, 9e5), 1e-9)
      expect(passageFlow(valve, high, low)).toBeGreaterThanOrEqual(0)
    }),
  )
})
