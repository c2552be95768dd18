import type { Dimension } from './dimensions.js'
import { dimensionFacts } from './dimensions.js'
import { bestUnit, formatValue, onPrintedScale, plainNumber, STANDARD_ATMOSPHERE } from './format.js'
import { fromSI, parseUnit, toSI } from './units.js'
import { type Failure, fail, type Written, type WrittenNumber, readWritten } from './written.js'

/** A quantity with its tolerance, in SI. */
export interface Quantity {
  dimension: Dimension
  /** Nominal value [SI]; pressures of 'absolutePressure' are absolute. */
  value: number
  /** Tolerance limits [SI], absent for an exact value. */
  low?: number
  high?: number
  /** Standard deviation the limits stand for [SI], 0 if exact. */
  sd: number
  law: 'exact' | 'normal' | 'uniform'
  relation: 'equal' | 'at most' | 'at least'
  /** As the user wrote it, trimmed. */
  text: string
}

/** A value read from text, or what is wrong with the text. */
export type Parsed<T> = { ok: true; value: T } | Failure

/** Nothing on a machine is larger in SI units: insulation is 1e12 ohm, a modulus 1e12 Pa. */
const ABSURD = 1e15

/** SI value of a written number, counted from vacuum and from absolute zero. */
function siValue(x: number, unit: WrittenNumber['unit'], dimension: Dimension, absolute: boolean): number {
  // A difference takes the size of a degree, a reading its scale.
  if (dimension === 'temperatureDifference') return x * unit.factor
  const si = toSI(x, unit)
  return dimension === 'absolutePressure' && !absolute ? si + STANDARD_ATMOSPHERE : si
}

function bounds(text: string, dimension: Dimension, least: number, greatest: number): Failure | undefined {
  const { name, example } = dimensionFacts(dimension)
  const expected = `${name}, as in "${example}"`
  const found = (code: string, message: string) => fail(code, message, expected, text)
  if (!(Math.abs(least) <= ABSURD && Math.abs(greatest) <= ABSURD))
    return found('QUANTITY_ABSURD', 'the number is beyond anything on a machine')
  if (least >= 0 || dimensionFacts(dimension).signed) return undefined
  if (dimension === 'temperature') return found('BELOW_ABSOLUTE_ZERO', 'the temperature is below absolute zero')
  if (dimension === 'absolutePressure') return found('BELOW_VACUUM', 'the pressure is below vacuum')
  return found('QUANTITY_NEGATIVE', `${name} cannot be below zero`)
}

/** Half of the tolerance [SI]: a percentage is of the number as written, of the gauge pressure too. */
function halfWidth(written: Extract<Written, { tolerance: object }>): number {
  const { number, tolerance } = written
  if (tolerance.percent) {
    const size = number.unit.gauge ? toSI(number.value, number.unit) : Math.abs(number.value) * number.unit.factor
    return (size * tolerance.value) / 100
  }
  return tolerance.value * tolerance.unit.factor
}

function withTolerance(base: Omit<Quantity, 'law' | 'sd'>, half: number, law: { uniform: boolean; k: number }): Quantity {
  if (half === 0) return { ...base, sd: 0, law: 'exact' }
  const sd = law.uniform ? half / Math.sqrt(3) : half / law.k
  return { ...base, low: base.value - half, high: base.value + half, sd, law: law.uniform ? 'uniform' : 'normal' }
}

function build(written: Written, dimension: Dimension, text: string): Parsed<Quantity> {
  const absolute = written.absolute
  if ('upper' in written) {
    const low = siValue(written.number.value, written.number.unit, dimension, absolute)
    const high = siValue(written.upper.value, written.upper.unit, dimension, absolute)
    if (low > high) {
      const fix = 'write the lower limit first'
      return fail('RANGE_REVERSED', 'the first limit is above the second', 'the lower limit, then the upper', text, fix)
    }
    const base = { dimension, value: low / 2 + high / 2, relation: 'equal' as const, text }
    const quantity = { ...withTolerance(base, (high - low) / 2, written.law), ...(high > low ? { low, high } : {}) }
    return bounds(text, dimension, low, high) ?? { ok: true, value: quantity }
  }
  const value = siValue(written.number.value, written.number.unit, dimension, absolute)
  const half = 'tolerance' in written ? halfWidth(written) : 0
  const base = { dimension, value, relation: written.relation, text }
  return bounds(text, dimension, value - half, value + half) ?? { ok: true, value: withTolerance(base, half, written.law) }
}

/**
 * Reads a quantity as the trade writes it: `64 Ohm +- 12 %`, `95 degC +- 2 K`, `0.5..0.7 bar`, `<= 18 V`, `18 AWG`, `7 bar abs`.
 *
 * What +- means: a normal law with the limits at 2 standard deviations, at k with `(k=3)`, a rectangular law with `(uniform)`;
 * a range `a..b` likewise, about its middle. A percentage is of the number as written.
 * @param text what the user wrote; up to 200 characters
 * @param dimension what it must be. 'absolutePressure': gauge (above the standard atmosphere) unless `abs` follows the unit, and
 *   the value is absolute [Pa]. 'temperature': a reading [K]; its tolerance is a difference. Wire gauges are an 'area'.
 * @returns the quantity in SI, or code, message, what was expected and received, and a fix; never throws.
 * Codes: QUANTITY_EMPTY, NUMBER_UNREADABLE, UNIT_MISSING, UNIT_UNKNOWN, UNIT_MISMATCH, RANGE_REVERSED, TOLERANCE_UNREADABLE,
 * TOLERANCE_NEGATIVE, TOLERANCE_RELATIVE, TOLERANCE_WITH_LIMIT, QUANTITY_NEGATIVE, QUANTITY_ABSURD, BELOW_ABSOLUTE_ZERO, BELOW_VACUUM.
 * Checked in quantity.test.ts, quantity.prop.test.ts.
 */
export function parseQuantity(text: string, dimension: Dimension): Parsed<Quantity> {
  const written = readWritten(text, dimension)
  return written.ok ? build(written.value, dimension, text.trim()) : written
}

const DIGITS = 12
const RELATIONS = { equal: '', 'at most': '<= ', 'at least': '>= ' }

function lawText(q: Quantity, half: number): string {
  if (q.law === 'uniform') return ' (uniform)'
  const k = plainNumber(half / q.sd, 6)
  return k === '2' ? '' : ` (k=${k})`
}

/**
 * A quantity in its canonical spelling, which reads back as the same quantity (to 1e-11 of its size, k to 6 digits): "64 Ohm +- 7.68 Ohm".
 * Checked in quantity.prop.test.ts.
 */
export function formatQuantity(q: Quantity): string {
  const value = onPrintedScale(q.value, q.dimension, false)
  const name = bestUnit(Math.abs(value), q.dimension)
  const nominal = `${RELATIONS[q.relation]}${formatValue(q.value, q.dimension, { unit: name, digits: DIGITS })}`
  if (q.low === undefined || q.high === undefined || q.law === 'exact') return nominal
  const half = (q.high - q.low) / 2
  const scale = q.dimension === 'temperature' ? 'K' : name
  const unit = parseUnit(scale)
  const width = plainNumber(unit ? fromSI(half, unit) : half, DIGITS)
  return `${nominal} +- ${width}${scale === '1' ? '' : ` ${scale}`}${lawText(q, half)}`
}
