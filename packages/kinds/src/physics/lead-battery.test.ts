import { expect, it } from 'vitest'
import { crankingLoopDrop } from './cranking-circuit.js'
import {
  chargeAtRest,
  electrolyteFreezing,
  gravityForPower,
  internalResistance,
  leastCrankingVoltage,
  loadedVoltage,
  restVoltage,
  shortCircuitCurrent,
  specificGravity,
  voltageCorrection,
} from './lead-battery.js'

it('charge is found again from the voltage at rest, cold and in a 24 V set', () => {
  expect(chargeAtRest(restVoltage(0.6, 263.15, 12), 263.15, 12)).toBeCloseTo(0.6, 9)
  expect(chargeAtRest(13.5)).toBeCloseTo(1, 9)
  expect(chargeAtRest(11)).toBeCloseTo(0, 9)
})

it('a cold battery of the same charge shows more', () => {
  expect(restVoltage(0.75, 263.15)).toBeGreaterThan(restVoltage(0.75))
  expect(restVoltage(0.75, 263.15) + voltageCorrection(263.15)).toBeCloseTo(restVoltage(0.75), 12)
})

it('two readings give the internal resistance that gives the second reading', () => {
  const inner = internalResistance(12.6, 10.2, 200)
  expect(loadedVoltage(12.6, inner, 200)).toBeCloseTo(10.2, 12)
  expect(shortCircuitCurrent(12.6, inner)).toBeCloseTo(1050, 9)
})

it('the flatter a battery, the sooner it freezes', () => {
  expect(electrolyteFreezing(specificGravity(0))).toBeGreaterThan(262)
  expect(electrolyteFreezing(specificGravity(0.5))).toBeCloseTo(248.6, 0)
  expect(electrolyteFreezing(specificGravity(1))).toBeLessThan(215)
})

it('limits bend at 40 degF, and a loop may lose 0.2 V in 100 A', () => {
  expect(leastCrankingVoltage(277.594)).toBeCloseTo(9.3, 3)
  expect(leastCrankingVoltage(255.3723)).toBeCloseTo(8.5, 3)
  expect(crankingLoopDrop(250)).toBeCloseTo(0.5, 12)
})

it('what cannot be is refused', () => {
  expect(() => restVoltage(1.2)).toThrow(/the charge/)
  expect(() => gravityForPower(2)).toThrow(/cranking power/)
  expect(() => internalResistance(12, 12.5, 100)).toThrow(/drop under load/)
  expect(() => internalResistance(12, 11, 0)).toThrow(/the current/)
  expect(() => leastCrankingVoltage(350)).toThrow(/temperature of the battery/)
  expect(() => electrolyteFreezing(0.9)).toThrow(/specific gravity/)
})
