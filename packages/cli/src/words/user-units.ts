import { type Dimension, formatValue } from '@halfsplit/core'
import type { System } from '@halfsplit/system'

/** Dimensions that are counted in one unit: a difference in that of its scale. */
const SCALE: Partial<Record<Dimension, Dimension>> = { pressureDifference: 'absolutePressure' }

const homeUnit = (dimension: Dimension): string => formatValue(0, dimension).split(' ').slice(1).join(' ')

/** The unit in which a quantity of this machine is written: the description's own where it has a habit. */
export const unitOf = ({ units }: System, dimension: Dimension): string =>
  units.get(SCALE[dimension] ?? dimension) ?? homeUnit(dimension)

/** A value in the description's unit, and in ours where that is another: "227 degF (108 degC)". */
export function userValue(system: System, value: number, dimension: Dimension): string {
  const habit = system.units.get(SCALE[dimension] ?? dimension)
  const ours = formatValue(value, dimension)
  if (habit === undefined || habit === homeUnit(dimension)) return ours
  return `${formatValue(value, dimension, { unit: habit })} (${ours})`
}

/** Less than this [SI] no meter in the shop shows: it is what insulation leaves. An assumption. */
const LEAST: Partial<Record<Dimension, number>> = {
  voltage: 1e-3,
  current: 1e-5,
  massFlow: 1e-8,
  volumeFlow: 1e-9,
  power: 1e-3,
  torque: 1e-3,
  angularSpeed: 1e-2,
}

/** A value without what is too small to be read. */
export const readable = (value: number, dimension: Dimension): number => (Math.abs(value) < (LEAST[dimension] ?? 0) ? 0 : value)

const DIGITS = 6

/** The bare number of a value in a unit. */
export const numberIn = (value: number, dimension: Dimension, unit: string): number =>
  Number(formatValue(value, dimension, { unit, digits: DIGITS }).split(' ')[0])
