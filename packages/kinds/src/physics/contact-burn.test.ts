import { expect, it } from 'vitest'
import { burnThreshold, burnTime } from './contact-burn.js'

it('hotter burns sooner', () => {
  const times = [50, 55, 60, 65, 68].map((celsius) => burnTime(celsius + 273.15))
  times.slice(1).forEach((time, n) => {
    expect(time).toBeLessThan(times[n])
  })
  expect(() => burnTime(273.15)).toThrow(/temperature of the surface/)
})

it('longer contact bears less, down to 43 degC', () => {
  expect(burnThreshold(600) - 273.15).toBeCloseTo(48, 9)
  expect(burnThreshold(3600)).toBeLessThan(burnThreshold(600))
  expect(burnThreshold(1e6) - 273.15).toBeCloseTo(43, 9)
  expect(() => burnThreshold(1)).toThrow(/time of contact/)
})
