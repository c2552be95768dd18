import { awgArea } from '@halfsplit/core'
import { expect, it } from 'vitest'
import { bladeFuseFor, FUSE_LINKS, largestFuse, meltingIntegral, openingBand, openingTime, wireBears } from './fuse-curve.js'

const { bladeC, bladeE } = FUSE_LINKS

it('a fuse holds for ever below what it holds, and opens above', () => {
  expect(openingTime(bladeC, 0)).toBe(Number.POSITIVE_INFINITY)
  expect(openingTime(bladeC, 1.24)).toBe(Number.POSITIVE_INFINITY)
  expect(openingTime(bladeC, 1.26)).toBeLessThan(1000)
  expect(() => openingTime(bladeC, -1)).toThrow(/multiple of rated current/)
})

it.each(Object.entries(FUSE_LINKS))('%s never takes longer at more current', (_, link) => {
  const times = Array.from({ length: 400 }, (__, n) => openingTime(link, 1.3 + n * 0.05))
  times.slice(1).forEach((time, n) => {
    expect(time).toBeLessThanOrEqual(times[n])
  })
})

// ISO 8820-3, operating time at 23 degC, types C and E: from memory, so that a limit here is a check and no proof.
it.each([
  [bladeC, 1.35, 0.75, 600],
  [bladeC, 1.6, 0.25, 50],
  [bladeC, 2, 0.15, 5],
  [bladeC, 3.5, 0.04, 0.5],
  [bladeE, 2, 2, 60],
  [bladeE, 3.5, 0.2, 7],
])('opening times lie within the limits of the standard (%#)', (link, multiple, least, most) => {
  const band = openingBand(link, multiple)
  expect(band.least).toBeGreaterThanOrEqual(least)
  expect(band.most).toBeLessThanOrEqual(most)
})

it('a dead short lets through the melting integral', () => {
  const [rating, multiple] = [10, 400]
  const through = (rating * multiple) ** 2 * openingTime(bladeC, multiple)
  expect(through / meltingIntegral(bladeC, rating)).toBeCloseTo(1, 3)
})

it('the fuse of a wire is the next size below what the wire carries', () => {
  expect(largestFuse(awgArea(16))).toBe(5)
  expect(largestFuse(awgArea(10))).toBe(25)
  expect(largestFuse(1e-8)).toBeUndefined()
  expect(() => largestFuse(0)).toThrow(/area of the wire/)
  expect(wireBears(1e-6)).toBeCloseTo(5.5, 9)
})

it('of the blade fuses the one for a current carries it with a fifth to spare; above 80 A there is none', () => {
  expect([0, 0.8, 0.81, 8, 8.1, 80].map(bladeFuseFor)).toEqual([1, 1, 2, 10, 15, 100])
  expect(bladeFuseFor(80.1)).toBeUndefined()
  expect(() => bladeFuseFor(-1)).toThrow(/the current/)
})
