import { convert } from '@halfsplit/core'
import { circleArea } from './gas-flow.js'
import { notNegative, positive, within } from './require.js'

/**
 * Flow of a liquid through an orifice [m³/s]:  Cd A √(2 dp/ρ).
 * @param diameter [m]   @param drop [Pa], >= 0   @param density [kg/m³]   @param discharge Cd [1]; 0.62 for a sharp edge
 * Source: general text (Bernoulli).  Checked by the hydraulics rows of the handbook.   @throws HalfsplitError VALUE_IMPOSSIBLE
 */
export function liquidOrificeFlow(diameter: number, drop: number, density: number, discharge = 0.62): number {
  const speed = Math.sqrt((2 * notNegative(drop, 'the drop of pressure')) / positive(density, 'the density'))
  return positive(discharge, 'the discharge coefficient') * circleArea(diameter) * speed
}

/**
 * Mean speed in a round line [m/s].
 * @param flow [m³/s]   @param diameter inside [m], > 0   @throws HalfsplitError VALUE_IMPOSSIBLE
 */
export const lineSpeed = (flow: number, diameter: number): number => flow / circleArea(diameter)

/**
 * Reynolds number [1] of a line.
 * @param speed [m/s] @param diameter [m]   @param viscosity kinematic [m²/s], > 0
 * @throws HalfsplitError VALUE_IMPOSSIBLE
 */
export function reynolds(speed: number, diameter: number, viscosity: number): number {
  return (Math.abs(speed) * diameter) / positive(viscosity, 'the kinematic viscosity')
}

/** Reynolds number up to which flow in a smooth line is laminar [1]. Source: general text. */
export const LAMINAR_UP_TO = 2300

/**
 * Friction factor of laminar flow (Darcy) [1]:  64/Re.
 * @throws HalfsplitError VALUE_IMPOSSIBLE where the flow is not laminar
 */
export function laminarFriction(re: number): number {
  return 64 / within(re, Number.MIN_VALUE, LAMINAR_UP_TO, 'the Reynolds number')
}

/**
 * Pressure lost along a line in laminar flow [Pa]:  128 µ L Q/(π d⁴).
 * @param flow [m³/s]   @param diameter @param length [m]   @param viscosity dynamic [Pa s]   Valid below Re 2300.
 * Source: Hagen-Poiseuille, general text.   @throws HalfsplitError VALUE_IMPOSSIBLE
 */
export function laminarLoss(flow: number, diameter: number, length: number, viscosity: number): number {
  const line = positive(diameter, 'the diameter') ** 4 * Math.PI
  return (128 * positive(viscosity, 'the dynamic viscosity') * positive(length, 'the length') * flow) / line
}

/** Pressure lost along a line [Pa]:  f L/d ρ v²/2. @param friction Darcy's factor [1]   Source: Darcy-Weisbach, general text. */
export function frictionLoss(friction: number, length: number, diameter: number, density: number, speed: number): number {
  return (friction * (length / positive(diameter, 'the diameter')) * density * speed ** 2) / 2
}

/**
 * Leak past a piston in its bore [m³/s]:  π D a³ dp/(12 µ L).
 * @param diameter D @param gap radial, a @param length L [m]   @param drop [Pa]   @param viscosity dynamic [Pa s]
 * Source: laminar flow between plates, general text.   @throws HalfsplitError VALUE_IMPOSSIBLE
 */
export function gapLeak(diameter: number, gap: number, length: number, drop: number, viscosity: number): number {
  const wide = Math.PI * positive(diameter, 'the diameter') * notNegative(gap, 'the gap') ** 3
  return (wide * drop) / (12 * positive(viscosity, 'the dynamic viscosity') * positive(length, 'the length of the gap'))
}

/** Bore and rod of a cylinder [m], 0 <= rod < bore. */
export interface Cylinder {
  bore: number
  rod: number
}

export type Stroke = 'push' | 'pull'

/** Area the pressure acts on [m²]: the bore, less the rod when pulling. @throws HalfsplitError VALUE_IMPOSSIBLE */
export function pistonArea({ bore, rod }: Cylinder, stroke: Stroke): number {
  const full = circleArea(bore)
  within(rod, 0, bore * 0.999, 'the diameter of the rod')
  return stroke === 'push' ? full : full - (Math.PI / 4) * rod ** 2
}

/** Force of a cylinder [N]:  p A. @param pressure gauge, the other side at none [Pa]   Source: general text. */
export const cylinderForce = (cylinder: Cylinder, stroke: Stroke, pressure: number): number =>
  pressure * pistonArea(cylinder, stroke)

/** Pressure that holds a load [Pa gauge]:  F/A. @param force [N] */
export const cylinderPressure = (cylinder: Cylinder, stroke: Stroke, force: number): number =>
  force / pistonArea(cylinder, stroke)

/** Speed of a cylinder [m/s]:  Q/A. @param flow into the side that fills [m³/s] */
export const cylinderSpeed = (cylinder: Cylinder, stroke: Stroke, flow: number): number => flow / pistonArea(cylinder, stroke)

/** Hydraulic power [W]:  p Q. @param pressure gauge [Pa] @param flow [m³/s] */
export const hydraulicPower = (pressure: number, flow: number): number => pressure * flow

/**
 * Delivery of a pump [m³/s].
 * @param displacement a revolution [m³] @param speed [rev/s]   @param volumetric efficiency 0 to 1 [1]
 * @throws HalfsplitError VALUE_IMPOSSIBLE
 */
export function pumpFlow(displacement: number, speed: number, volumetric = 1): number {
  return positive(displacement, 'the displacement') * notNegative(speed, 'the speed') * within(volumetric, 0, 1, 'the efficiency')
}

/**
 * Torque a pump takes at its shaft [N m]:  V dp/(2π η).
 * @param displacement a revolution [m³]   @param mechanical efficiency, above 0 to 1 [1]
 */
export function pumpTorque(displacement: number, pressure: number, mechanical = 1): number {
  return (positive(displacement, 'the displacement') * pressure) / (2 * Math.PI * within(mechanical, 1e-3, 1, 'the efficiency'))
}

/**
 * Flow of a liquid through a valve of known Cv [m³/s]:  Cv √(dp/SG) US gal/min, psi.
 * @param drop [Pa], >= 0   @param density [kg/m³]   Source: definition of Cv, water of 1000 kg/m³.
 * @throws HalfsplitError VALUE_IMPOSSIBLE
 */
export function liquidValveFlow(cv: number, drop: number, density: number): number {
  const psi = convert(notNegative(drop, 'the drop of pressure'), 'Pa', '[psi]')
  return convert(notNegative(cv, 'Cv') * Math.sqrt(psi / (positive(density, 'the density') / 1000)), '[gal_us]/min', 'm3/s')
}

/**
 * Rise of pressure of trapped oil that is heated [Pa]:  K β dT, in a rigid block; about 10 bar a kelvin.
 * @param modulus bulk modulus K [Pa]   @param expansion β [1/K]   @param rise of temperature [K]   Source: general text.
 * @throws HalfsplitError VALUE_IMPOSSIBLE
 */
export function trappedRise(modulus: number, expansion: number, rise: number): number {
  return positive(modulus, 'the bulk modulus') * positive(expansion, 'the expansion') * rise
}

/**
 * Volume a liquid gives way [m³] under a rise of pressure [Pa]:  V dp/K.
 * @param volume [m³] @param modulus K [Pa]   @throws HalfsplitError VALUE_IMPOSSIBLE
 */
export function squeezedVolume(volume: number, rise: number, modulus: number): number {
  return (positive(volume, 'the volume') * rise) / positive(modulus, 'the bulk modulus')
}
