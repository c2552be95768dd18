import { convert } from '@halfsplit/core'
import { evaluate, REFERENCE_DENSITY } from '@halfsplit/network'
import { notNegative, positive, within } from './require.js'

/** Air: gas constant [J/(kg K)] and ratio of specific heats [1]. General text. */
export const AIR = { gasConstant: 287.05, kappa: 1.4 } as const

/** Reference atmosphere ANR of ISO 8778 (from memory): 100 kPa, 293.15 K. Flows "of free air" here are of this unless said. */
export const REFERENCE_PRESSURE = 1e5
export const REFERENCE_TEMPERATURE = 293.15

/**
 * Ratio of absolute pressures below which a nozzle is choked [1]:  (2/(k+1))^(k/(k−1)); 0.528 for air.
 * Source: isentropic flow, general text.
 */
export function criticalRatio(kappa: number = AIR.kappa): number {
  return (2 / (kappa + 1)) ** (kappa / (kappa - 1))
}

/** Choked flow function [1]:  m √(R T1)/(A p1) = √k (2/(k+1))^((k+1)/(2(k−1))). Source: isentropic flow, general text. */
export function chokedFlowFunction(kappa: number = AIR.kappa): number {
  return Math.sqrt(kappa) * (2 / (kappa + 1)) ** ((kappa + 1) / (2 * (kappa - 1)))
}

/** A hole in the wall of something under pressure: its area [m²] and its discharge coefficient [1]. */
export interface Hole {
  area: number
  discharge: number
}

/**
 * Discharge coefficients [1] of a well-rounded and of a sharp-edged hole, for air.
 * Source: handbook table of discharge; others give 0.61 for sharp.
 */
export const DISCHARGE = { rounded: 0.97, sharp: 0.65 } as const

/** Area of a round hole [m²]. @param diameter [m], > 0   @throws HalfsplitError VALUE_IMPOSSIBLE */
export function circleArea(diameter: number): number {
  return (Math.PI / 4) * positive(diameter, 'the diameter') ** 2
}

/**
 * Mass flow of air through a hole [kg/s], choked and subsonic.
 * @param upstream @param downstream absolute pressures [Pa], downstream not the higher   @param temperature upstream [K]
 * Source: isentropic flow of a perfect gas, general text.  Checked by the pneumatics rows of the handbook.
 * @throws HalfsplitError VALUE_IMPOSSIBLE
 */
export function holeFlow({ area, discharge }: Hole, upstream: number, downstream: number, temperature: number): number {
  positive(upstream, 'the absolute pressure upstream')
  const r = within(downstream, 0, upstream, 'the absolute pressure downstream') / upstream
  const k = AIR.kappa
  const open = (discharge * area * upstream) / Math.sqrt(AIR.gasConstant * positive(temperature, 'the temperature upstream'))
  if (r <= criticalRatio()) return open * chokedFlowFunction()
  return open * Math.sqrt(((2 * k) / (k - 1)) * (r ** (2 / k) - r ** ((k + 1) / k)))
}

/**
 * Volume flow [m³/s] that a mass flow of air [kg/s] has at a state.
 * @param pressure absolute [Pa] @param temperature [K]   Source: perfect gas.
 */
export function volumeFlow(massFlow: number, pressure = REFERENCE_PRESSURE, temperature = REFERENCE_TEMPERATURE): number {
  return (massFlow * AIR.gasConstant * positive(temperature, 'the temperature')) / positive(pressure, 'the absolute pressure')
}

/** What ISO 6358 says of a valve: sonic conductance [m³/(s Pa)] and critical ratio of absolute pressures [1]. */
export interface Passage {
  conductance: number
  critical: number
}

/**
 * Mass flow through a valve by ISO 6358 [kg/s]; negative when it goes back.
 * @param pa @param pb absolute pressures at both ends [Pa]   @param temperature of the gas that flows in [K]
 * The law is that of the network; it is linear within 0.1 % of equal pressures.   Source: ISO 6358 (see network/src/laws.ts).
 * @throws HalfsplitError VALUE_IMPOSSIBLE
 */
export function passageFlow(passage: Passage, pa: number, pb: number, temperature = REFERENCE_TEMPERATURE): number {
  notNegative(passage.conductance, 'the sonic conductance')
  within(passage.critical, 0, 0.999, 'the critical pressure ratio')
  notNegative(pa, 'the absolute pressure of one end')
  notNegative(pb, 'the absolute pressure of the other end')
  const law = { law: 'orifice', c: passage.conductance, b: passage.critical } as const
  return evaluate(law, pa, pb).f * Math.sqrt(REFERENCE_TEMPERATURE / positive(temperature, 'the temperature of the gas'))
}

/** Free air [m³/s ANR] of a mass flow [kg/s], as ISO 6358 counts it. */
export const freeAir = (massFlow: number): number => massFlow / REFERENCE_DENSITY

/**
 * Sonic conductance of a hole [m³/(s Pa)]: choked isentropic flow as ISO 6358 writes it; 0.2 l/(s bar) a mm² of area times
 * discharge.
 * @throws HalfsplitError VALUE_IMPOSSIBLE
 */
export function conductanceOf(hole: Hole): number {
  return freeAir(holeFlow(hole, 1, 0, REFERENCE_TEMPERATURE))
}

/**
 * Diameter of the hole [m] with this sonic conductance [m³/(s Pa)]: `conductanceOf` turned round.
 * @throws HalfsplitError VALUE_IMPOSSIBLE
 */
export function diameterOf(conductance: number, discharge: number): number {
  const unit = conductanceOf({ area: 1, discharge: positive(discharge, 'the discharge coefficient') })
  return Math.sqrt((4 / Math.PI) * (positive(conductance, 'the sonic conductance') / unit))
}

/**
 * Outlet pressure [Pa absolute] below which a supply [Pa absolute] is choked.
 * @param critical ratio, that of an ideal nozzle unless given
 */
export function chokedBelow(supply: number, critical = criticalRatio()): number {
  return critical * positive(supply, 'the absolute pressure of the supply')
}

/**
 * Nominal flow of a valve Qn [m³/s ANR]: from 6 to 5 bar gauge.
 * Source: makers' practice, 7 and 6 bar absolute.   @throws HalfsplitError VALUE_IMPOSSIBLE
 */
export const nominalFlow = (passage: Passage): number => freeAir(passageFlow(passage, 7e5, 6e5))

/** Sonic conductance [m³/(s Pa)] of a valve from its nominal flow [m³/s ANR]: `nominalFlow` turned round. */
export function conductanceFromNominal(flow: number, critical: number): number {
  return positive(flow, 'the nominal flow') / nominalFlow({ conductance: 1, critical })
}

/** Kv [m³/h at 1 bar, water] of a valve with Cv 1 [US gal/min at 1 psi, water]. Source: the two definitions; printed as 0.865. */
export const KV_PER_CV = convert(1, '[gal_us]/min', 'm3/h') / Math.sqrt(convert(1, '[psi]', 'bar'))

/** Density of free air of the trade, 14.7 psi and 68 degF, over its state [Pa, K]. */
const STANDARD_FOOT = { pressure: convert(14.7, '[psi]', 'Pa'), temperature: convert(68, '[degF]', 'K') } as const

/** Ratio at which the trade takes a valve of known Cv to be choked [1]. Source: fluid-power textbooks. */
const CV_CRITICAL = 0.53

/**
 * Mass flow of air through a valve of known Cv [kg/s]:  22.7 Cv √((p1 − p2) p2 / T1) standard cubic feet a minute, psi absolute
 * and degR;
 * choked where p2 is below 0.53 p1.
 * @param upstream @param downstream absolute [Pa], downstream not the higher   @param temperature upstream [K]
 * Source: textbook on fluid power, chapter on pneumatics.   @throws HalfsplitError VALUE_IMPOSSIBLE
 */
export function valveFlow(cv: number, upstream: number, downstream: number, temperature: number): number {
  const p1 = convert(positive(upstream, 'the absolute pressure upstream'), 'Pa', '[psi]')
  within(downstream, 0, upstream, 'the absolute pressure downstream')
  const p2 = Math.max(convert(downstream, 'Pa', '[psi]'), CV_CRITICAL * p1)
  const t1 = convert(positive(temperature, 'the temperature upstream'), 'K', '[degR]')
  const feet = 22.7 * notNegative(cv, 'Cv') * Math.sqrt(((p1 - p2) * p2) / t1)
  const cubicMetres = convert(feet, '[cft_i]/min', 'm3/s')
  return (cubicMetres * STANDARD_FOOT.pressure) / (AIR.gasConstant * STANDARD_FOOT.temperature)
}

/** Volume flow of free air as US tables count it [m³/s at 14.7 psi, 68 degF] of a mass flow [kg/s]. */
export const standardFeet = (massFlow: number): number => volumeFlow(massFlow, STANDARD_FOOT.pressure, STANDARD_FOOT.temperature)

/**
 * Sonic conductance [m³/(s Pa)] of a valve of known Cv, by equal choked flow. An estimate: how a valve's flow bends lies in its
 * own critical ratio.
 */
export function conductanceFromCv(cv: number): number {
  return freeAir(valveFlow(cv, 1e6, 0, REFERENCE_TEMPERATURE)) / 1e6
}

/** A measuring orifice in a pipe: both diameters [m], 0 < orifice < pipe. */
export interface MeasuringOrifice {
  pipe: number
  orifice: number
}

/**
 * Mass flow through a measuring orifice [kg/s]:  C ε A √(2 ρ dp / (1 − β⁴)).
 * @param drop of pressure [Pa] @param density upstream [kg/m³]   @param discharge C [1]   @param expansibility ε [1], 1 for
 * liquids
 * Source: ISO 5167-2 (from memory).   @throws HalfsplitError VALUE_IMPOSSIBLE
 */
export function measuredFlow(
  meter: MeasuringOrifice,
  drop: number,
  density: number,
  discharge: number,
  expansibility = 1,
): number {
  const beta = within(meter.orifice / meter.pipe, 1e-6, 0.999, 'the ratio of the diameters')
  const ideal = Math.sqrt((2 * positive(density, 'the density') * notNegative(drop, 'the drop of pressure')) / (1 - beta ** 4))
  return discharge * expansibility * circleArea(meter.orifice) * ideal
}

/**
 * Expansibility of a gas at a measuring orifice [1]:  1 − (0.351 + 0.256 β⁴ + 0.93 β⁸)(1 − (p2/p1)^(1/k)).
 * @param upstream @param downstream absolute [Pa]   Valid for p2/p1 >= 0.75.   Source: ISO 5167-2 (from memory).
 * @throws HalfsplitError VALUE_IMPOSSIBLE
 */
export function expansibility(meter: MeasuringOrifice, upstream: number, downstream: number, kappa: number = AIR.kappa): number {
  const beta = within(meter.orifice / meter.pipe, 1e-6, 0.999, 'the ratio of the diameters')
  const r = within(downstream / positive(upstream, 'the pressure upstream'), 0.75, 1, 'the ratio of the pressures')
  return 1 - (0.351 + 0.256 * beta ** 4 + 0.93 * beta ** 8) * (1 - r ** (1 / kappa))
}
