/** Trip and reset temperature of a thermal switch from a logged bath test, with their uncertainty. */

import type { Interval } from '../interval.js'
import { combine } from '../uncertainty.js'
import { fitCensoredNormal, type NormalEstimate } from './censored-normal.js'
import { type ContactEvent, contactEvents } from './contact-events.js'
import { knotResponses, laggedBody } from './lagged-bath.js'
import { type Fit, leastSquares } from './least-squares.js'

/** A bath test as logged: the same number of times [s], probe readings [K] and contacts. */
export interface BathLog {
  readonly times: readonly number[]
  readonly probe: readonly number[]
  readonly closed: readonly boolean[]
}

/** What is known of the bath, the probe and the switch. */
export interface BathTest {
  /** Times at which the bath's heating or cooling changes [s]; its temperatures there are found by the fit. */
  readonly knots: readonly number[]
  /** First-order lags behind the bath [s], and the standard uncertainty of the switch's. */
  readonly probeLag: number
  readonly switchLag: number
  readonly switchLagUncertainty: number
  /** Standard uncertainty of the probe's calibration [K]. */
  readonly probeUncertainty: number
  /** Shorter runs of the contact are bounce or glitch [s]. */
  readonly minStable: number
}

/** A switching temperature over all cycles. */
export interface SwitchingPoint extends NormalEstimate {
  /** Standard uncertainty of the mean that comes of the fit of the bath [K]. */
  readonly fitUncertainty: number
  /** Mean rate of the switch's temperature at its events [K/s]. */
  readonly meanRate: number
  /** Standard uncertainty of the mean, all told: cycles, fit, calibration of the probe, lag of the switch [K]. */
  readonly uncertainty: number
}

/** What a test says of tripping, or of resetting. */
export interface SwitchingResult {
  /** The switch's temperature just before and after each event [K], in order of time. */
  readonly intervals: readonly Interval[]
  /** Given from three events on, where their spread can be told. */
  readonly point?: SwitchingPoint
  /** Where it never happened: how far the switch went without it [K]; a trip lies beyond it, a reset too. */
  readonly reachedWithout?: number
}

/** Result of a bath test. */
export interface BathTestResult {
  /** Bath temperature at each knot, and the probe's noise about the fit [K]. */
  readonly knotTemperatures: readonly number[]
  readonly residualSd: number
  readonly trip: SwitchingResult
  readonly reset: SwitchingResult
  /** Trip less reset [K], where both are known; the calibration cancels. */
  readonly difference?: { readonly value: number; readonly uncertainty: number }
}

/** Fewer events than this say too little of their spread. */
const ENOUGH_EVENTS = 3

/** The switch over the test: its temperature, and how a mean over events depends on the knots. */
interface Body {
  readonly at: (time: number) => { temperature: number; rate: number }
  readonly fit: Fit
  readonly responses: ((time: number) => { temperature: number })[]
}

/**
 * Trip and reset temperature from a bath test: the bath by least squares from the probe through its lag, the switch's
 * temperature through its own lag, each event an interval between two samples, mean and spread over the cycles by maximum
 * likelihood.
 *     u² = meanError² + fitUncertainty² + probeUncertainty² + (meanRate · switchLagUncertainty)² A sample within the bounce
 * may still read the old state: the true event can lie a few seconds before its interval, which is left out. Throws a
 * RangeError on samples outside the knots, or too few of them.  Checked in the `trip-point` reference cases.
 */
export function assessBathTest(log: BathLog, test: BathTest): BathTestResult {
  const probe = knotResponses(test.knots, test.probeLag)
  const fit = leastSquares(
    log.times.map((time) => probe.map((response) => response(time).temperature)),
    log.probe,
  )
  const at = laggedBody(test.knots, fit.solution, test.switchLag)
  const body = { at, fit, responses: knotResponses(test.knots, test.switchLag) }
  const events = contactEvents(log.times, log.closed, test.minStable)
  // The first leg of the bath goes towards the trip, wherever it starts.
  const isRising = fit.solution[1] >= fit.solution[0]
  const trips = events.filter(({ kind }) => kind === 'trip')
  const resets = events.filter(({ kind }) => kind === 'reset')
  const trip = switching(trips, body, test) ?? { intervals: [], reachedWithout: extreme(log.times, body, isRising) }
  const fromTrip = log.times.filter((time) => trips.length > 0 && time >= trips[0].before)
  const reset = switching(resets, body, test) ?? { intervals: [], reachedWithout: extreme(fromTrip, body, !isRising) }
  return {
    knotTemperatures: fit.solution,
    residualSd: fit.residualSd,
    trip,
    reset,
    difference: difference(trip, reset, [trips, resets], body, test),
  }
}

function switching(events: readonly ContactEvent[], body: Body, test: BathTest): SwitchingResult | undefined {
  if (events.length === 0) return undefined
  const intervals = events.map(({ after, before }) => {
    const ends = [body.at(after).temperature, body.at(before).temperature]
    return { low: Math.min(...ends), high: Math.max(...ends) }
  })
  const estimate = events.length < ENOUGH_EVENTS ? undefined : fitCensoredNormal(intervals)
  return estimate === undefined ? { intervals } : { intervals, point: pointOf(estimate, events, body, test) }
}

function pointOf(estimate: NormalEstimate, events: readonly ContactEvent[], body: Body, test: BathTest): SwitchingPoint {
  const meanRate = mean(events.map((event) => body.at(middle(event)).rate))
  const fitUncertainty = body.fit.uncertaintyOf(weightsOf(events, body))
  const parts = [estimate.meanError, fitUncertainty, test.probeUncertainty, meanRate * test.switchLagUncertainty]
  return { ...estimate, fitUncertainty, meanRate, uncertainty: combine(...parts) }
}

function difference(
  trip: SwitchingResult,
  reset: SwitchingResult,
  [trips, resets]: readonly (readonly ContactEvent[])[],
  body: Body,
  test: BathTest,
): BathTestResult['difference'] {
  if (trip.point === undefined || reset.point === undefined) return undefined
  const other = weightsOf(resets, body)
  const weights = weightsOf(trips, body).map((weight, knot) => weight - other[knot])
  const rates = trip.point.meanRate - reset.point.meanRate
  return {
    value: trip.point.mean - reset.point.mean,
    uncertainty: combine(
      trip.point.meanError,
      reset.point.meanError,
      body.fit.uncertaintyOf(weights),
      rates * test.switchLagUncertainty,
    ),
  }
}

/** How the mean temperature at the events depends on the bath's at each knot. */
const weightsOf = (events: readonly ContactEvent[], { responses }: Body): number[] =>
  responses.map((response) => mean(events.map((event) => response(middle(event)).temperature)))

function extreme(times: readonly number[], { at }: Body, isHighest: boolean): number | undefined {
  if (times.length === 0) return undefined
  const temperatures = times.map((time) => at(time).temperature)
  return temperatures.reduce((most, one) => (one > most === isHighest ? one : most))
}

const middle = ({ after, before }: ContactEvent): number => (after + before) / 2

const mean = (values: readonly number[]): number => values.reduce((sum, value) => sum + value, 0) / values.length
