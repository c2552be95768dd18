import { expect, it } from 'vitest'
import { decadeStep, forwardVoltage, junctionCurrent, seriesResistor, thermalVoltage, zenerVoltage } from './junction.js'

const junction = { saturation: 1e-9, emission: 2, temperature: 298.15 }

it('voltage and current turn round, and ten times the current is a decade', () => {
  expect(junctionCurrent(junction, forwardVoltage(junction, 0.02))).toBeCloseTo(0.02, 12)
  const step = forwardVoltage(junction, 1) - forwardVoltage(junction, 0.1)
  expect(step).toBeCloseTo(decadeStep(298.15, 2), 9)
})

// SI 2019: kT/q at 300 K is 25.852 mV.
it('the thermal voltage at 300 K is 25.85 mV', () => {
  expect(thermalVoltage(300) * 1e3).toBeCloseTo(25.852, 3)
  expect(() => thermalVoltage(0)).toThrow(/temperature of the junction/)
})

it('a resistor carries what the LED does not', () => {
  expect(seriesResistor(24, 2, 0.02)).toEqual({ resistance: 1100, power: 0.44 })
  expect(() => seriesResistor(2, 3, 0.02)).toThrow(/forward voltage/)
})

it('a zener rises along its slope', () => {
  expect(zenerVoltage(12, 5e-3, 10, 5e-3)).toBe(12)
  expect(zenerVoltage(12, 5e-3, 10, 25e-3)).toBeCloseTo(12.2, 12)
})
