import type { Dimension, Meter } from '@halfsplit/core'
import { type Arrival, bandsOf, generateTests, Machine, PredictionStore, type Test } from '@halfsplit/diagnosis'
import { type Branch, belief, mix, type NumberPrediction, type Predictive, predictive } from '@halfsplit/inference'
import type { System } from '@halfsplit/system'

/** A healthy display: its limits hold the central 99 % (design: what +- means). */
export const HEALTHY_SHARE = 0.99
/** Cause of spread that is the meter, not a part. */
export const THE_METER = 'the meter'
/** Causes under this share of the spread are not named. */
const LEAST_CAUSE = 0.03
const MOST_CAUSES = 4

export interface ExpectedReading {
  test: Test
  meter: Meter
  dimension: Dimension
  /** [SI] */
  expected: number
  low: number
  high: number
  /** Nothing but insulation holds the point. */
  floating: boolean
  /** What the spread comes from, largest first; shares of the variance. */
  causes: readonly Cause[]
}

export interface Cause {
  part: string
  rating: string
  share: number
}

/** The state has no steady values: which parts keep it from rest. */
export interface NoRest {
  status: string
  parts: readonly string[]
}

/** Every meter reading a healthy machine offers in a state, with limits and causes; or why there are none. */
export function expectedReadings(system: System, state: string): ExpectedReading[] | NoRest {
  const machine = new Machine(system)
  const tests = generateTests(system).filter((test) => test.setup.state === state && fits(system, test))
  const rest = system.states.get(state)?.dead ? undefined : noRest(machine.arrive([], { state }))
  if (rest) return rest
  const store = new PredictionStore(machine)
  return tests.flatMap((test) => {
    const { probe } = test
    if (probe.kind === 'look') return []
    const branches = store.get([], test.setup, [probe])
    return [reading(system, test, probe.meter, branches)]
  })
}

/** Live points as they are; ohms of the part alone where the power is off. */
const fits = (system: System, { setup }: Test): boolean =>
  system.states.get(setup.state)?.dead ? true : setup.intervention === undefined

function noRest(arrivals: readonly Arrival[]): NoRest | undefined {
  const { unsettled } = arrivals.find((one) => !one.settled) ?? {}
  return unsettled && { status: unsettled.status, parts: unsettled.parts }
}

function reading(system: System, test: Test, meter: Meter, branches: readonly Branch[]): ExpectedReading {
  const numbers = branches.map((branch) => branch.predictions[0] as NumberPrediction)
  const floating = numbers.some(({ broad }) => broad !== undefined)
  const seen = asComputed(healthy(branches))
  const bands = bandsOf(seen, HEALTHY_SHARE)
  const [first] = bands
  const heaviest = bands.reduce((best, one) => (one.share > best.share ? one : best), first)
  return {
    test,
    meter,
    dimension: meter.quantity,
    expected: heaviest.middle,
    low: Math.min(...bands.map((band) => band.low)),
    high: Math.max(...bands.map((band) => band.high)),
    floating,
    causes: causesOf(system, numbers[0]),
  }
}

/** The distribution before anything was read, over the branches of doubtful thresholds. */
export function healthy(branches: readonly Branch[]): Predictive {
  const [state] = belief([{ hypothesis: 0, weight: 1 }], [1], [], () => []).states
  return predictive(state, branches)[0]
}

/** Without the part that may be anything: the limits of a floating point are said in words. */
function asComputed(seen: Predictive): Predictive {
  return seen.normals.length === 0 ? seen : mix([{ weight: 1, predictive: { ...seen, uniforms: [] } }])
}

function causesOf(system: System, { sensitivities, freshSd }: NumberPrediction): Cause[] {
  const byName = new Map<string, Cause>()
  let total = freshSd * freshSd
  const add = (part: string, rating: string, square: number) => {
    const known = byName.get(`${part}.${rating}`) ?? { part, rating, share: 0 }
    byName.set(`${part}.${rating}`, { ...known, share: known.share + square })
  }
  add(THE_METER, 'accuracy', total)
  for (let i = 0; i < sensitivities.index.length; i += 1) {
    const square = sensitivities.value[i] ** 2
    const latent = system.latents[sensitivities.index[i]]
    total += square
    if (latent) add(latent.part, latent.rating.replace('=', ''), square)
    else add(THE_METER, 'accuracy', square)
  }
  return [...byName.values()]
    .map((cause) => ({ ...cause, share: total > 0 ? cause.share / total : 0 }))
    .filter(({ share }) => share >= LEAST_CAUSE)
    .sort((a, b) => b.share - a.share || (a.part < b.part ? -1 : 1))
    .slice(0, MOST_CAUSES)
}

/** The same system with one meter used for what it measures. */
export function withMeter(system: System, meter: Meter): System {
  return { ...system, meters: [meter, ...system.meters.filter((other) => other !== meter && other.quantity !== meter.quantity)] }
}

/** The same system with every part that has a temperature held at this one [K] in a state. */
export function atTemperature(system: System, stateName: string, kelvin: number): System {
  const state = system.states.get(stateName)
  if (!state) return system
  const heated = [...system.parts.values()]
    .filter((part) => part.kind.settings?.temperature)
    .map((part) => ({ part: part.name, setting: 'temperature', value: kelvin, sd: 0 }))
  return { ...system, states: new Map(system.states).set(stateName, { ...state, impose: [...state.impose, ...heated] }) }
}
