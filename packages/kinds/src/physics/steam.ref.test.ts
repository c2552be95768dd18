import { expect, it } from 'vitest'
import { airPressureAt, saturationPressure, saturationTemperature } from './steam.js'

// IAPWS R7-97(2012), verification values of tables 35 and 36.
it.each([
  [300, 0.353658941e-2],
  [500, 0.263889776e1],
  [600, 0.123443146e2],
])('saturation pressure at %s K', (temperature, megapascal) => {
  expect(saturationPressure(temperature) / (megapascal * 1e6)).toBeCloseTo(1, 8)
})
it.each([
  [0.1, 372.755919],
  [1, 453.035632],
  [10, 584.149488],
])('saturation temperature at %s MPa', (megapascal, temperature) => {
  expect(saturationTemperature(megapascal * 1e6)).toBeCloseTo(temperature, 5)
})

// ISO 2533, pressure at 1000 and 3000 m.
it.each([
  [0, 101325],
  [1000, 89875],
  [3000, 70109],
])('air at %s m', (altitude, pressure) => {
  expect(airPressureAt(altitude) / pressure).toBeCloseTo(1, 4)
})

it('beyond the critical point nothing boils', () => {
  expect(() => saturationPressure(650)).toThrow(/temperature of the water/)
  expect(() => saturationTemperature(100)).toThrow(/pressure of the water/)
})
