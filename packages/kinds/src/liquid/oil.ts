import { STANDARD_ATMOSPHERE } from '@halfsplit/core'
import { type Element, REFERENCE } from '@halfsplit/network'
import type { Builder, Hazard, Look, Severity } from '../kind.js'
import { pressed } from '../present.js'
import { logSeverity } from '../severity.js'

/** Density [kg/m3] and bulk modulus [Pa] of hydraulic oil with a little air in it. Common practice, no source. */
export const DENSITY = 870
export const BULK_MODULUS = 1.2e9

/** Hydraulic oil of ISO VG 32: 32 mm2/s at 40 degC by its grade, 5.4 mm2/s at 100 degC (from memory). */
const AT_40 = [313.15, 32] as const
const AT_100 = [373.15, 5.4] as const

/** log10 log10 (v + 0.7), a straight line over log10 T. */
const walther = (v: number): number => Math.log10(Math.log10(v + 0.7))

/**
 * Dynamic viscosity of the oil [Pa s] at a temperature [K]:  log10 log10 (v + 0.7) = A - B log10 T, v in mm2/s.
 * Source: viscosity-temperature chart of ASTM D341 (Walther's equation), from memory.   Checked in oil.ref.test.ts
 */
export function viscosity(temperature: number): number {
  const slope = (walther(AT_40[1]) - walther(AT_100[1])) / (Math.log10(AT_100[0]) - Math.log10(AT_40[0]))
  const height = walther(AT_40[1]) - slope * (Math.log10(temperature) - Math.log10(AT_40[0]))
  return (10 ** (10 ** height) - 0.7) * 1e-6 * DENSITY
}

/** Viscosity at the temperature that the ratings of a kind are stated at [Pa s]: 20 degC. */
const STATED = viscosity(293.15)

/** Conductance of a narrow gap or line at a temperature over that at 20 degC [1]: cold oil is thick. */
export const thinness = (temperature: number): number => STATED / viscosity(temperature)

/**
 * Conductance of a round line with laminar flow [m3/(s Pa)]:  pi d^4/(128 mu l).
 * @param bore d [m]   @param length l [m]   Source: Hagen-Poiseuille, general text.   Checked in oil.ref.test.ts
 */
export const laminarLine = (bore: number, length: number, temperature: number): number =>
  (Math.PI * bore ** 4) / (128 * viscosity(temperature) * length)

/** Oil in a line or a chamber, which gives a little under pressure. @param volume [m3] */
export const oilVolume = (id: string, a: string, volume: number): Element => ({
  type: 'store',
  id,
  a,
  b: REFERENCE,
  charge: { charge: 'linear', capacity: volume / BULK_MODULUS },
})

/** What every shut seat and standing seal lets through [m3/(s Pa)]: a hundredth of a millilitre a minute at 30 bar. An assumption. */
export const SEEP = 1e-16

/** Adds a node at the pressure of the open air, where oil that leaks out goes. */
export function addOutside(make: Builder): string {
  const node = make.inner('outside', 'liquid', STANDARD_ATMOSPHERE)
  make.add({ type: 'across', id: 'outside', a: node, b: REFERENCE, value: STANDARD_ATMOSPHERE, resistance: 0 })
  return node
}

/** Pressure below which the flow through an opening is laminar [Pa]: keeps its slope finite where nothing flows. */
const LAMINAR = 2e4

/** An opening of which 1 m3/s at 1 Pa is `k`; 0 is shut. */
export const opening = (k: number) => ({ law: 'square-root', k, laminar: LAMINAR }) as const

/**
 * Opening that passes a flow at a pressure difference.
 * @param flow [m3/s]   @param drop [Pa]   @returns k of `opening`
 */
export const openingFor = (flow: number, drop: number): number => flow / Math.sqrt(drop)

/** Pressure difference that the size of a leak is stated at [Pa]: about what holds a blade up. */
const LEAK_AT = 30e5

/** Conductance of a leak [m3/(s Pa)]. @param flow its size, at 30 bar [m3/s]; undefined: none */
export const leakOf = (flow: number | undefined): number => (flow ?? 0) / LEAK_AT

/** Leak past a seat or a seal, at 30 bar: from 7 ml/min, 4 mm a minute of a 50 mm cylinder, to all that a small pump gives. */
export const seatSeverity = (): Severity => logSeverity('volumeFlow', 1.2e-7, 9e-5, 8)

/** Leak to the outside, at 30 bar: from a drop a minute to a jet. An assumption. */
export const dripSeverity = (): Severity => logSeverity('volumeFlow', 1e-9, 1e-5, 7)

/** Oil on the outside, by how much leaks out: a drop a minute is wet, ten a minute drip, in m3/s. The levels are an assumption. */
export function wetLook(about: string, through = 'leak'): Look {
  const drop = 5e-8 / 60
  return {
    name: 'wet',
    about,
    words: ['dry', 'wet', 'drips'],
    levels: [
      [0.2 * drop, drop],
      [8 * drop, 20 * drop],
    ],
    quantity: () => ({ probe: { through }, scale: 1, absolute: true }),
    by: 'technician',
    minutes: 2,
  }
}

/** Pressure over the open air from which oil sprays out of a loosened line [Pa]: two bar. An assumption. */
const SPRAYS = 2e5

/** The caution of everything that holds oil, while there is pressure at any of its ports. */
export const oilHazard = (...ports: readonly string[]): Hazard => ({
  title: 'pressure',
  caution:
    'Lower the load and let the pressure out before a line is opened. Never feel for a leak by hand: a jet goes through the skin.',
  present: pressed(SPRAYS, ...ports),
})
