import { evaluate } from '@halfsplit/network'
import { filamentLaw } from '../electrical/filament.js'
import { notNegative, positive } from './require.js'

/**
 * Current of a filament lamp [A] at a voltage [V], by the law its kind has.
 * @param power [W] at `rated` [V]   @throws HalfsplitError VALUE_IMPOSSIBLE
 */
export function lampCurrent(power: number, rated: number, voltage: number): number {
  const law = filamentLaw(positive(power, 'the power of the lamp'), positive(rated, 'the rated voltage of the lamp'))
  return evaluate(law, notNegative(voltage, 'the voltage of the lamp'), 0).f
}

/** Resistance of a lamp that burns at its rated voltage [ohm]:  U²/P.   @throws HalfsplitError VALUE_IMPOSSIBLE */
export const hotResistance = (power: number, rated: number): number => rated ** 2 / positive(power, 'the power of the lamp')

/**
 * Hot resistance over cold [1]: what to allow for on an ohmmeter.
 * Source: textbooks 13.7, lamp pages 14; small lamps less (common practice).
 */
export const HOT_OVER_COLD = { least: 10, most: 15 } as const

/** Limits of the cold resistance of a good lamp [ohm]: almost a short.   @throws HalfsplitError VALUE_IMPOSSIBLE */
export function coldResistance(power: number, rated: number): { least: number; most: number } {
  const hot = hotResistance(power, rated)
  return { least: hot / HOT_OVER_COLD.most, most: hot / HOT_OVER_COLD.least }
}

/** Current of a cold lamp over that of a hot one [1], by the law of its kind: its resistance with no voltage on it. */
export function inrushRatio(): number {
  const [power, rated] = [21, 12]
  return evaluate(filamentLaw(power, rated), 0, 0).da * hotResistance(power, rated)
}

/** Exponents of a lamp at its rated voltage: its quantity goes with voltage to the power of this. */
export function ratingExponents(): { current: number; power: number; resistance: number; temperature: number } {
  const rated = 12
  const { f, da } = evaluate(filamentLaw(21, rated), rated, 0)
  const current = (da * rated) / f
  return { current, power: 1 + current, resistance: 1 - current, temperature: (1 - current) / TUNGSTEN_EXPONENT }
}

/** Resistivity of tungsten goes with absolute temperature to about this power, 300 to 3000 K. From memory. */
const TUNGSTEN_EXPONENT = 1.2

/**
 * Resistance of a conductor [ohm] with a coefficient referred to a temperature:  R0 (1 + α (T − T0)).
 * @param reference T0 [K], 293.15 unless given   Source: general text.
 */
export function linearResistance(r0: number, alpha: number, temperature: number, reference = 293.15): number {
  return positive(r0, 'the resistance') * positive(1 + alpha * (temperature - reference), 'the ratio of resistances')
}
