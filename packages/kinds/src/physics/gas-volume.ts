import { STANDARD_ATMOSPHERE } from '@halfsplit/core'
import { type Passage, REFERENCE_PRESSURE, REFERENCE_TEMPERATURE } from './gas-flow.js'
import { notNegative, positive, within } from './require.js'

/**
 * Leak of a closed volume from how fast its pressure falls at one temperature:  V dp/t.
 * @param volume connected [m³]   @param drop of pressure [Pa] in the time [s]
 * @returns the flow as pressure times volume [Pa m³/s], and as air of the surroundings [m³/s]. 2 psi/min of 30 l is about 4
 * l/min.
 * Source: perfect gas; pressure-decay test, general text.  Checked by the pneumatics and air-brake rows of the handbook.
 * @throws HalfsplitError VALUE_IMPOSSIBLE
 */
export function leakFromDecay(volume: number, drop: number, time: number, surroundings = STANDARD_ATMOSPHERE) {
  const throughput = (positive(volume, 'the volume') * notNegative(drop, 'the drop of pressure')) / positive(time, 'the time')
  return { throughput, freeAir: throughput / positive(surroundings, 'the pressure of the surroundings') }
}

/**
 * How far the pressure of a sealed volume falls by cooling alone [Pa]:  p (1 − T2/T1); negative when it warms.
 * @param pressure absolute, at the start [Pa]   @param from @param to temperatures of the gas [K]   Source: perfect gas.
 * @throws HalfsplitError VALUE_IMPOSSIBLE
 */
export function coolingDrop(pressure: number, from: number, to: number): number {
  return (
    positive(pressure, 'the absolute pressure') *
    (1 - positive(to, 'the temperature now') / positive(from, 'the temperature before'))
  )
}

/** A reading of a closed volume: absolute pressure [Pa] and temperature of the gas in it [K]. */
export interface GasState {
  pressure: number
  temperature: number
}

/**
 * Tells leaking from cooling: the fall of pressure over a time, shared between the two.
 * @param volume [m³]   @param time between the readings [s]
 * @returns `cooling` and `leaking` parts of the fall [Pa], and the leak as air of the surroundings [m³/s at 293.15 K]; negative
 * parts mean it rose
 * Source: perfect gas, m = pV/(RT).   @throws HalfsplitError VALUE_IMPOSSIBLE
 */
export function leakOrCooling(
  volume: number,
  before: GasState,
  after: GasState,
  time: number,
  surroundings = STANDARD_ATMOSPHERE,
) {
  const cooling = coolingDrop(before.pressure, before.temperature, after.temperature)
  const leaking = before.pressure - cooling - positive(after.pressure, 'the absolute pressure now')
  const flow = (positive(volume, 'the volume') * leaking) / positive(time, 'the time')
  return { cooling, leaking, freeAir: (flow / surroundings) * (REFERENCE_TEMPERATURE / after.temperature) }
}

/**
 * Air of the surroundings [m³] that must go into a volume [m³] to raise it by `rise` [Pa], once it has cooled.
 * Source: Boyle's law. @throws HalfsplitError VALUE_IMPOSSIBLE
 */
export function freeAirToFill(volume: number, rise: number, surroundings = STANDARD_ATMOSPHERE): number {
  return (positive(volume, 'the volume') * notNegative(rise, 'the rise of pressure')) / positive(surroundings, 'the surroundings')
}

/** Ratio of absolute pressures of a volume filled to a gauge pressure [Pa]. @param surroundings [Pa] */
export function compressionRatio(gaugePressure: number, surroundings = STANDARD_ATMOSPHERE): number {
  return (gaugePressure + surroundings) / positive(surroundings, 'the surroundings')
}

/**
 * Time in which a flow of air of the surroundings [m³/s] raises a volume [m³] by `rise` [Pa]: what a compressor takes [s].
 * @throws HalfsplitError VALUE_IMPOSSIBLE
 */
export function buildUpTime(volume: number, rise: number, flow: number, surroundings = STANDARD_ATMOSPHERE): number {
  return freeAirToFill(volume, rise, surroundings) / positive(flow, 'the delivery of the compressor')
}

/**
 * Volume flow [same unit] a flow has in another state:  Q p/p' T'/T.
 * Source: perfect gas. @throws HalfsplitError VALUE_IMPOSSIBLE
 */
export function flowInState(flow: number, from: GasState, to: GasState): number {
  const pressures = positive(from.pressure, 'the absolute pressure') / positive(to.pressure, 'the absolute pressure')
  return (flow * pressures * positive(to.temperature, 'the temperature')) / positive(from.temperature, 'the temperature')
}

/**
 * What a cylinder takes: its rate of strokes [1/s] at a flow at its own pressure [m³/s].
 * @param area [m²] @param stroke [m]   @throws HalfsplitError VALUE_IMPOSSIBLE
 */
export function strokeRate(flow: number, area: number, stroke: number): number {
  return flow / (positive(area, 'the area of the piston') * positive(stroke, 'the stroke'))
}

/**
 * (1 − b) ∫ dθ/r between two ratios on the subsonic branch, sin θ = (r − b)/(1 − b), by Simpson's rule: the integrand is
 * smooth.
 */
function subsonicVent(critical: number, from: number, to: number): number {
  const angle = (r: number) => Math.asin(Math.min(1, (r - critical) / (1 - critical)))
  const [low, high, steps] = [angle(from), angle(to), 200]
  const value = (n: number) => (1 - critical) / (critical + (1 - critical) * Math.sin(low + ((high - low) * n) / steps))
  let sum = value(0) + value(steps)
  for (let n = 1; n < steps; n += 1) sum += value(n) * (n % 2 ? 4 : 2)
  return (sum * (high - low)) / steps / 3
}

/** Pressure per pressure and second that a passage takes from a volume while choked [1/s]. */
function chokedRate({ conductance }: Passage, volume: number, temperature: number): number {
  const warmth = Math.sqrt(positive(temperature, 'the temperature') / REFERENCE_TEMPERATURE)
  return (positive(conductance, 'the sonic conductance') * REFERENCE_PRESSURE * warmth) / positive(volume, 'the volume')
}

/**
 * Time to vent a volume through a valve at one temperature [s], choked first, then subsonic.
 * @param volume [m³]   @param from @param to absolute pressures, from >= to >= surroundings [Pa]   @param temperature of the
 * gas [K]
 * Source: ISO 6358 equations integrated.  Checked by the pneumatics rows of the handbook.
 * @throws HalfsplitError VALUE_IMPOSSIBLE
 */
export function ventTime(
  passage: Passage,
  volume: number,
  from: number,
  to: number,
  surroundings = REFERENCE_PRESSURE,
  temperature = REFERENCE_TEMPERATURE,
): number {
  within(to, positive(surroundings, 'the surroundings'), from, 'the absolute pressure at the end')
  const rate = chokedRate(passage, volume, temperature)
  const turn = passage.critical > 0 ? surroundings / passage.critical : Number.POSITIVE_INFINITY
  const choked = from > turn ? Math.log(from / Math.max(to, turn)) : 0
  const subsonic = to < turn ? subsonicVent(passage.critical, surroundings / Math.min(from, turn), surroundings / to) : 0
  return (choked + subsonic) / rate
}

/**
 * Time to fill a volume through a valve from a supply that holds, at one temperature [s].
 * @param volume [m³]   @param from @param to absolute pressures in it [Pa], from <= to <= supply   @param supply absolute [Pa]
 * Source: ISO 6358 equations integrated.   @throws HalfsplitError VALUE_IMPOSSIBLE
 */
export function fillTime(
  passage: Passage,
  volume: number,
  from: number,
  to: number,
  supply: number,
  temperature = REFERENCE_TEMPERATURE,
): number {
  within(to, notNegative(from, 'the absolute pressure at the start'), supply, 'the absolute pressure at the end')
  const rate = chokedRate(passage, volume, temperature)
  const b = passage.critical
  const choked = Math.max(0, Math.min(to / supply, b) - from / supply)
  const angle = (pressure: number) => Math.asin(Math.min(1, Math.max(0, (pressure / supply - b) / (1 - b))))
  return (choked + (1 - b) * (angle(to) - angle(from))) / rate
}
