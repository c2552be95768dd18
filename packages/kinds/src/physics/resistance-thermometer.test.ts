import { expect, it } from 'vitest'
import { platinumResistance, platinumTemperature, platinumTolerance } from './resistance-thermometer.js'

// IEC 60751 prints 35.54 ohm at -160 degC; one public table has 35.34, which must not come out.
it('-160 degC is 35.54 ohm and not the misprint 35.34', () => {
  expect(platinumResistance(113.15)).toBeCloseTo(35.54, 2)
})

it.each([73.15, 200, 273.15, 300, 500, 1123.15])('%s K is found again from its resistance', (temperature) => {
  expect(platinumTemperature(platinumResistance(temperature, 1000), 1000)).toBeCloseTo(temperature, 8)
})

it('outside -200 to 850 degC it says so', () => {
  expect(() => platinumResistance(50)).toThrow(/temperature of the thermometer/)
  expect(() => platinumTemperature(500)).toThrow(/resistance of the thermometer/)
})

it('the tolerance in ohm is that in kelvin along the slope of the curve', () => {
  const { kelvin, ohm } = platinumTolerance(150, 'B')
  const slope = (platinumResistance(150.01) - platinumResistance(149.99)) / 0.02
  expect(kelvin).toBeCloseTo(0.3 + 0.005 * 123.15, 10)
  expect(ohm / (kelvin * slope)).toBeCloseTo(1, 6)
})
