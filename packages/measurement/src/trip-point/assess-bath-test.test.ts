import { createRandom } from '@halfsplit/core'
import { expect, test } from 'vitest'
import type { Interval } from '../interval.js'
import { assessBathTest, type BathTest } from './assess-bath-test.js'
import { laggedBody } from './lagged-bath.js'

const PERIOD = 1000
const TEST: BathTest = {
  knots: [0, 1, 2, 3, 4, 5, 6, 7, 8].map((leg) => leg * PERIOD),
  probeLag: 8,
  switchLag: 20,
  switchLagUncertainty: 2,
  probeUncertainty: 0.05,
  minStable: 12,
}

/** A log of a switch that opens at `trip` and closes at `reset` [K], without any scatter but the probe's noise. */
function logOf(bath: (leg: number) => number, trip: number, reset: number, noise: number) {
  const random = createRandom('bath')
  const temperatures = TEST.knots.map((_, leg) => bath(leg))
  const [probe, body] = [TEST.probeLag, TEST.switchLag].map((lag) => laggedBody(TEST.knots, temperatures, lag))
  const times = Array.from({ length: 4001 }, (_, i) => 2 * i)
  let isClosed = true
  const closed = times.map((time) => {
    const { temperature } = body(time)
    isClosed = isClosed ? temperature < trip : temperature <= reset
    return isClosed
  })
  return { times, probe: times.map((time) => probe(time).temperature + noise * random.normal()), closed }
}

test('without noise every event lies within its interval, and the bath is found', () => {
  const { trip, reset, knotTemperatures } = assessBathTest(
    logOf((leg) => (leg % 2 ? 368 : 348), 361, 354, 0),
    TEST,
  )
  expect([trip.intervals.length, reset.intervals.length]).toEqual([4, 4])
  // To rounding: a sample may lie just at the switching temperature.
  const holds =
    (kelvin: number) =>
    ({ low, high }: Interval) =>
      low < kelvin + 1e-9 && high > kelvin - 1e-9 && high - low < 0.05
  expect(trip.intervals.filter(holds(361))).toHaveLength(4)
  expect(reset.intervals.filter(holds(354))).toHaveLength(4)
  expect(knotTemperatures[3]).toBeCloseTo(368, 9)
  // The same temperature at each cycle: all intervals overlap, so nothing can be said of a spread.
  expect(trip.point).toBeUndefined()
})

test('each part of the uncertainty shows', () => {
  // A bath that turns at other temperatures each time moves the samples, and with them the intervals, apart.
  const log = logOf((leg) => (leg % 2 ? 368 + leg / 3 : 348 - leg / 5), 361, 354, 0.05)
  const scattered = { ...log, closed: log.closed.map((_, i) => log.closed[Math.max(0, i - 9 * (Math.floor(i / 1000) % 3))]) }
  const found = assessBathTest(scattered, TEST)
  const { trip, reset, difference, residualSd } = found
  if (trip.point === undefined || reset.point === undefined || difference === undefined) throw new Error('no estimate')
  expect(residualSd).toBeCloseTo(0.05, 2)
  expect(Math.abs(trip.point.mean - 361)).toBeLessThan(0.5)
  expect(trip.point.meanRate).toBeGreaterThan(0.019)
  expect(reset.point.meanRate).toBeLessThan(-0.019)
  const sure = assessBathTest(scattered, { ...TEST, probeUncertainty: 0, switchLagUncertainty: 0 })
  const added = (trip.point.uncertainty ** 2 - (sure.trip.point?.uncertainty ?? 0) ** 2) ** 0.5
  expect(added).toBeCloseTo(Math.hypot(0.05, trip.point.meanRate * 2), 9)
  // The calibration cancels in the difference, the lag does not: rising and falling go opposite ways.
  const lagShare = (trip.point.meanRate - reset.point.meanRate) * 2
  expect(difference.uncertainty).toBeGreaterThan(lagShare)
  expect(assessBathTest(scattered, { ...TEST, probeUncertainty: 9 }).difference).toEqual(difference)
})

test('a switch that never trips has a bound in how warm it was; one that never resets, in how cold', () => {
  const never = assessBathTest(
    logOf((leg) => (leg % 2 ? 368 : 348), 400, 354, 0),
    TEST,
  )
  expect(never.trip).toEqual({ intervals: [], reachedWithout: expect.closeTo(367.6, 0) })
  expect(never.reset).toEqual({ intervals: [], reachedWithout: undefined })
  const stuck = assessBathTest(
    logOf((leg) => (leg % 2 ? 368 : 348), 361, 200, 0),
    TEST,
  )
  expect(stuck.trip.intervals).toHaveLength(1)
  expect(stuck.reset.reachedWithout).toBeCloseTo(348.4, 0)
  expect(stuck.difference).toBeUndefined()
})

test('samples after the last knot are refused', () => {
  const log = logOf((leg) => (leg % 2 ? 368 : 348), 361, 354, 0)
  expect(() => assessBathTest(log, { ...TEST, knots: TEST.knots.slice(0, 5) })).toThrow('outside the bath')
})
