import { type Dimension, printUnits } from './dimensions.js'
import { HalfsplitError } from './errors.js'
import { fromSI, parseUnit } from './units.js'

/** Standard atmosphere, what a gauge pressure is counted from [Pa]. Source: exact by definition (10th CGPM, 1954). */
export const STANDARD_ATMOSPHERE = 101325

/** Coarsest rounding that still tells values apart on a scale whose zero is a convention, in the printed unit: 0.1 degC, 0.1 mbar. */
const SCALE_DECIMALS: Partial<Record<Dimension, number>> = { temperature: 1, absolutePressure: 4 }

/** How a value is to be printed. */
export interface FormatOptions {
  /** Unit to print in; " abs" after a unit of pressure prints the absolute pressure. */
  unit?: string
  /** Significant digits, 3 unless given; trailing zeros are dropped. */
  digits?: number
  /** Display step [SI]: rounds to it and keeps its decimals, trailing zeros too. */
  resolution?: number
}

/** The unit of the dimension in which a magnitude [SI] reads best: at least 1, or a tenth in the home unit. */
export function bestUnit(magnitude: number, dimension: Dimension): string {
  const { names, home } = printUnits(dimension)
  if (magnitude === 0) return names[home]
  // Half a step of four digits: what rounds to 1 counts as 1.
  const reaches = (name: string, least: number) => magnitude / (parseUnit(name)?.factor ?? 1) >= least * 0.9995
  for (let i = names.length - 1; i > 0; i--) if (reaches(names[i], i === home ? 0.1 : 1)) return names[i]
  return names[0]
}

/** A number without exponent, rounded to significant digits, no trailing zeros; a value of another's size in the scale may cap the decimals. */
export function plainNumber(x: number, digits: number, mostDecimals = 20): string {
  if (x === 0) return '0'
  const rounded = Number(x.toPrecision(digits))
  const decimals = Math.min(mostDecimals, Math.max(0, digits - 1 - Math.floor(Math.log10(Math.abs(rounded)))), 100)
  const text = rounded.toFixed(decimals)
  const short = text.includes('.') ? text.replace(/\.?0+$/, '') : text
  return short === '-0' ? '0' : short
}

function steppedNumber(x: number, step: number): string {
  const decimals = Math.min(20, Math.max(0, Math.ceil(-Math.log10(step) - 1e-9)))
  const text = (Math.round(x / step) * step).toFixed(decimals)
  return Number(text) === 0 ? text.replace('-', '') : text
}

/** SI value on the scale it is printed on: a gauge pressure unless `absolute`. */
export function onPrintedScale(valueSI: number, dimension: Dimension, absolute: boolean): number {
  return dimension === 'absolutePressure' && !absolute ? valueSI - STANDARD_ATMOSPHERE : valueSI
}

/**
 * A value as the trade writes it: "11.88 V", "0.48 A", "57.6 Ohm", "120 kOhm", "6.5 bar", "95 degC".
 * @param valueSI [SI]; 'absolutePressure' is absolute and printed as gauge unless options.unit ends in " abs"
 * @returns number and unit with one space; "no number" for NaN, "infinite" for an infinity; no exponent notation
 * @throws HalfsplitError UNIT_UNKNOWN for an unknown options.unit
 * Checked in quantity.test.ts.
 */
export function formatValue(valueSI: number, dimension: Dimension, options: FormatOptions = {}): string {
  if (Number.isNaN(valueSI)) return 'no number'
  if (!Number.isFinite(valueSI)) return valueSI > 0 ? 'infinite' : '-infinite'
  const absolute = options.unit?.endsWith(' abs') ?? false
  const value = onPrintedScale(valueSI, dimension, absolute)
  const name = options.unit?.replace(/ abs$/, '') ?? bestUnit(Math.abs(value), dimension)
  const unit = parseUnit(name)
  if (!unit) throw new HalfsplitError('UNIT_UNKNOWN', `"${name}" is not a known unit`)
  const x = fromSI(value, unit)
  const decimals = options.digits === undefined ? SCALE_DECIMALS[dimension] : undefined
  const number = options.resolution
    ? steppedNumber(x, options.resolution / unit.factor)
    : plainNumber(x, options.digits ?? 3, decimals)
  return name === '1' ? number : `${number} ${name}${absolute ? ' abs' : ''}`
}
