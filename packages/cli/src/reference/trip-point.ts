/** Reference kind `trip-point`: trip and reset temperature of a thermal switch from bath logs. */

import { readFileSync } from 'node:fs'
import { join } from 'node:path'
import {
  assessBathTest,
  type BathLog,
  type BathTest,
  type BathTestResult,
  conformanceProbability,
  meanOf,
  type SwitchingResult,
} from '@halfsplit/measurement'
import { readPlanningCases } from './plan-cases.js'
import { differences, judge } from './posterior-compare.js'
import type { Runner } from './runner.js'

/** On temperatures [K], rates [K/s] and probabilities. */
const TOLERANCE = 1e-6

/** On the uncertainty of the difference [K]: the cases leave out what the fit of the bath adds, a few millionths; we count it. */
const DIFFERENCE_TOLERANCE = 1e-4

/** Zero of the Celsius scale [K]. */
const ZERO = 273.15

interface TripInput {
  bath_knots_s: number[]
  probe_lag_s: number
  switch_lag_s: number
  switch_lag_u_s: number
  probe_calibration_u_degC: number
  min_stable_s: number
  spec: Record<'trip' | 'reset', { lower_degC: number; upper_degC: number }>
}

interface Expected {
  [key: string]: unknown
  trip: Record<string, unknown>
  reset: Record<string, unknown>
}

/** Reads a log: a line of names, then time [s], probe [degC], contact (1 closed). */
function readLog(file: string): BathLog {
  const [names, ...lines] = readFileSync(file, 'utf8').trim().split(/\r?\n/)
  if (names !== 't_s,probe_degC,contact')
    throw new SyntaxError(`${file} has the columns ${names}, expected t_s,probe_degC,contact`)
  const rows = lines.map((line) => line.split(',').map(Number))
  if (rows.some((row) => row.length !== 3 || row.some(Number.isNaN)))
    throw new SyntaxError(`${file} has a line that is not three numbers`)
  return {
    times: rows.map(([time]) => time),
    probe: rows.map(([, probe]) => probe + ZERO),
    closed: rows.map(([, , contact]) => contact === 1),
  }
}

const testOf = (input: TripInput): BathTest => ({
  knots: input.bath_knots_s,
  probeLag: input.probe_lag_s,
  switchLag: input.switch_lag_s,
  switchLagUncertainty: input.switch_lag_u_s,
  probeUncertainty: input.probe_calibration_u_degC,
  minStable: input.min_stable_s,
})

function resultOf({ intervals, point }: SwitchingResult, spec: TripInput['spec']['trip']): Record<string, unknown> {
  const shown = intervals.map(({ low, high }) => [low - ZERO, high - ZERO])
  if (point === undefined) return { estimable_by_ml: false, intervals_degC: shown }
  const { value, u } = meanOf(intervals.map(({ low, high }) => (low + high) / 2))
  const mean = point.mean - ZERO
  return {
    estimable_by_ml: true,
    intervals_degC: shown,
    mean_degC: mean,
    cycle_sd_ml_degC: point.sd,
    se_mean_degC: point.meanError,
    se_sd_degC: point.sdError,
    u_temperature_fit_degC: point.fitUncertainty,
    mean_rate_K_per_s: point.meanRate,
    u_combined_degC: point.uncertainty,
    midpoint_mean_degC: value - ZERO,
    midpoint_sd_degC: u * Math.sqrt(intervals.length),
    midpoint_se_degC: u,
    conformance_probability: conformanceProbability(
      { value: mean, u: point.uncertainty },
      { low: spec.lower_degC, high: spec.upper_degC },
    ),
  }
}

/**
 * The bound of a switch that never changed, under whichever name the case gives it: the words say how far it went without
 * what.
 */
function boundOf(expected: Record<string, unknown>, { reachedWithout }: SwitchingResult): Record<string, unknown> {
  const key = Object.keys(expected).find((name) => /_degC_without_(trip|reset)$/.test(name))
  return key === undefined ? {} : { [key]: reachedWithout === undefined ? null : reachedWithout - ZERO }
}

function computed(found: BathTestResult, { spec }: TripInput, expected: Expected) {
  const { trip, reset, difference } = found
  return {
    fit_knot_temps_degC: found.knotTemperatures.map((temperature) => temperature - ZERO),
    fit_residual_sd_degC: found.residualSd,
    n_trips: trip.intervals.length,
    n_resets: reset.intervals.length,
    trip: { ...resultOf(trip, spec.trip), ...boundOf(expected.trip, trip) },
    reset: { ...resultOf(reset, spec.reset), ...boundOf(expected.reset, reset) },
    difference_trip_reset_degC: difference?.value,
    u_difference_degC: difference?.uncertainty,
  }
}

export const tripPoint: Runner = (directory) =>
  readPlanningCases<TripInput, Expected>(directory, 'trip-point.json').map((one) => {
    const { id, input, expected, log } = one as typeof one & { log: string }
    const found = assessBathTest(readLog(join(directory, log)), testOf(input))
    return judge(id, () => {
      const { u_difference_degC: ourDifference, ...ours } = computed(found, input, expected)
      const { u_difference_degC: theirs, ...rest } = expected
      return [
        ...differences(ours, rest, TOLERANCE),
        ...differences(ourDifference, theirs, DIFFERENCE_TOLERANCE, 'u_difference_degC'),
      ]
    })
  })
