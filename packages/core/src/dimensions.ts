import type { Exponents } from './unit-table.js'
import { parseUnit } from './units.js'

/** What is known of a dimension: how it is named in a message, its units for printing (rising), and what values it admits. */
interface DimensionFacts {
  /** With its article, as in "a resistance". */
  name: string
  example: string
  /** Units a value is printed in, smallest first; the first marked '>' is the home unit, used down to a tenth. */
  units: readonly string[]
  /** Can be below zero. */
  signed?: true
}

const FACTS = {
  voltage: { name: 'a voltage', example: '24 V', units: ['mV', '>V', 'kV'], signed: true },
  current: { name: 'a current', example: '10 A', units: ['uA', 'mA', '>A', 'kA'], signed: true },
  resistance: { name: 'a resistance', example: '1.2 kOhm', units: ['mOhm', '>Ohm', 'kOhm', 'MOhm', 'GOhm'] },
  conductance: { name: 'a conductance', example: '2 mS', units: ['nS', 'uS', 'mS', '>S'] },
  power: { name: 'a power', example: '21 W', units: ['mW', '>W', 'kW'], signed: true },
  energy: { name: 'an energy', example: '50 J', units: ['mJ', '>J', 'kJ', 'MJ'], signed: true },
  charge: { name: 'an electric charge', example: '100 A.h', units: ['mA.h', '>A.h'] },
  capacitance: { name: 'a capacitance', example: '10 uF', units: ['pF', 'nF', '>uF', 'mF', 'F'] },
  inductance: { name: 'an inductance', example: '20 mH', units: ['uH', '>mH', 'H'] },
  temperature: { name: 'a temperature', example: '95 degC', units: ['>degC'] },
  temperatureDifference: { name: 'a temperature difference', example: '5 K', units: ['>K'], signed: true },
  absolutePressure: { name: 'a pressure', example: '6.5 bar', units: ['>bar'] },
  pressureDifference: { name: 'a pressure difference', example: '0.3 bar', units: ['mbar', '>bar'], signed: true },
  length: { name: 'a length', example: '4 m', units: ['mm', '>m', 'km'] },
  area: { name: 'an area', example: '4 mm2', units: ['>mm2', 'm2'] },
  volume: { name: 'a volume', example: '2 l', units: ['ml', '>l', 'm3'] },
  mass: { name: 'a mass', example: '5 kg', units: ['g', '>kg'] },
  time: { name: 'a time', example: '3 s', units: ['us', 'ms', '>s', 'min', 'h'] },
  massFlow: { name: 'a mass flow', example: '2 g/s', units: ['mg/s', '>g/s', 'kg/s'], signed: true },
  volumeFlow: { name: 'a volume flow', example: '12 l/min', units: ['ml/min', '>l/min', 'm3/s'], signed: true },
  sonicConductance: { name: 'a sonic conductance', example: '2 l/(s.bar)', units: ['ml/(s.bar)', '>l/(s.bar)'] },
  angularSpeed: { name: 'a speed of rotation', example: '1800 rpm', units: ['>rpm'], signed: true },
  angle: { name: 'an angle', example: '90 deg', units: ['>deg'], signed: true },
  frequency: { name: 'a frequency', example: '50 Hz', units: ['mHz', '>Hz', 'kHz'] },
  torque: { name: 'a torque', example: '40 N.m', units: ['>N.m', 'kN.m'], signed: true },
  force: { name: 'a force', example: '500 N', units: ['>N', 'kN'], signed: true },
  thermalConductance: { name: 'a thermal conductance', example: '2 W/K', units: ['mW/K', '>W/K', 'kW/K'] },
  thermalResistance: { name: 'a thermal resistance', example: '10 K/W', units: ['mK/W', '>K/W'] },
  heatCapacity: { name: 'a heat capacity', example: '50 J/K', units: ['>J/K', 'kJ/K', 'MJ/K'] },
  temperatureCoefficient: { name: 'a temperature coefficient', example: '0.00393 K-1', units: ['>K-1'], signed: true },
  fraction: { name: 'a fraction', example: '12 %', units: ['>%'], signed: true },
  count: { name: 'a number', example: '3', units: ['>1'], signed: true },
  speed: { name: 'a speed', example: '5 m/s', units: ['mm/s', '>m/s'], signed: true },
} as const satisfies Record<string, DimensionFacts>

/** The quantities the project speaks of. 'temperature' and 'absolutePressure' are points of a scale, the others are amounts. */
export type Dimension = keyof typeof FACTS

/** All dimensions, in the order of the table. */
export const DIMENSIONS = Object.keys(FACTS) as Dimension[]

export function dimensionFacts(dimension: Dimension): DimensionFacts {
  return FACTS[dimension]
}

/** Units a value of the dimension is printed in, smallest first, and which of them is its home unit. */
export function printUnits(dimension: Dimension): { names: string[]; home: number } {
  const units: readonly string[] = FACTS[dimension].units
  return { names: units.map((name) => name.replace('>', '')), home: units.findIndex((name) => name.startsWith('>')) }
}

/** Exponents of m, kg, s, A, K, rad of the dimension. */
export function dimensionExponents(dimension: Dimension): Exponents {
  const { names, home } = printUnits(dimension)
  const unit = parseUnit(names[home])
  if (!unit) throw new Error(`the home unit of ${dimension} is not in the table of units`)
  return unit.exponents
}
