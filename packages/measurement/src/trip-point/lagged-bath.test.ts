import { expect, test } from 'vitest'
import { knotResponses, laggedBody } from './lagged-bath.js'

test('on a long ramp the body runs behind by rate times lag; at the start it is in balance', () => {
  const body = laggedBody([0, 1000], [300, 320], 10)
  expect(body(0).temperature).toBe(300)
  expect(body(0).rate).toBeCloseTo(0, 12)
  expect(body(1000).temperature).toBeCloseTo(320 - 0.02 * 10, 9)
  expect(body(1000).rate).toBeCloseTo(0.02, 9)
})

test('its rate is what the lag makes of the distance to the bath, in every stretch', () => {
  const [knots, bath] = [
    [0, 50, 80, 200],
    [300, 340, 310, 310],
  ]
  const [body, bare] = [laggedBody(knots, bath, 20), laggedBody(knots, bath, 0)]
  for (const time of [0, 10, 50, 55, 79, 80, 130, 200])
    expect(body(time).rate).toBeCloseTo((bare(time).temperature - body(time).temperature) / 20, 12)
})

test('without a lag the body is the bath', () => {
  const body = laggedBody([0, 10, 20], [300, 310, 300], 0)
  expect([0, 5, 10, 15, 20].map((time) => body(time).temperature)).toEqual([300, 305, 310, 305, 300])
})

test('any bath is a sum of the answers to single knots', () => {
  const [knots, bath] = [
    [0, 30, 70],
    [290, 330, 300],
  ]
  const parts = knotResponses(knots, 8)
  const whole = laggedBody(knots, bath, 8)
  for (const time of [0, 12, 30, 66])
    expect(parts.reduce((sum, part, i) => sum + bath[i] * part(time).temperature, 0)).toBeCloseTo(whole(time).temperature, 9)
})

test('a time outside the knots is refused', () => {
  expect(() => laggedBody([0, 10], [300, 310], 1)(10.5)).toThrow('the time 10.5 s is outside')
})
