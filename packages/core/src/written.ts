import { type Dimension, dimensionExponents, dimensionFacts, printUnits } from './dimensions.js'
import { nearestNames } from './issue.js'
import { ATOMS, SPELLINGS } from './unit-table.js'
import { parseUnit, sameExponents, type Unit } from './units.js'

/** What is wrong with a written quantity. */
export interface Failure {
  ok: false
  code: string
  message: string
  expected: string
  received: string
  fix?: string
}

type Reading<T> = { ok: true; value: T } | Failure

export interface WrittenNumber {
  value: number
  unit: Unit
}

interface Common {
  number: WrittenNumber
  absolute: boolean
  relation: 'equal' | 'at most' | 'at least'
  law: { uniform: boolean; k: number }
}

/** The parts of a quantity as written, not yet in SI. */
export type Written =
  | Common
  | (Common & { upper: WrittenNumber })
  | (Common & { tolerance: { value: number; percent: true } | { value: number; percent: false; unit: Unit } })

const NUMBER = /^[+-]?(?:\d+\.?\d*|\.\d+)(?:[eE][+-]?\d{1,3})?/
const LONGEST = 200

export function fail(code: string, message: string, expected: string, received: string, fix?: string): Failure {
  const short = received.length > 60 ? `${received.slice(0, 60)}...` : received
  return { ok: false, code, message, expected, received: short, ...(fix ? { fix } : {}) }
}

function wanted(dimension: Dimension): string {
  const { name, example } = dimensionFacts(dimension)
  return `${name}, as in "${example}"`
}

/** Which dimension a unit measures, in words, for a message. */
function measured(unit: Unit): string {
  const dimension = DIMENSION_ORDER.find((d) => sameExponents(dimensionExponents(d), unit.exponents))
  return dimension ? dimensionFacts(dimension).name : 'another quantity'
}

const DIMENSION_ORDER: Dimension[] = [
  'voltage',
  'current',
  'resistance',
  'conductance',
  'power',
  'energy',
  'charge',
  'capacitance',
  'inductance',
  'temperature',
  'pressureDifference',
  'length',
  'area',
  'volume',
  'mass',
  'time',
  'massFlow',
  'volumeFlow',
  'sonicConductance',
  'angularSpeed',
  'angle',
  'frequency',
  'force',
  'thermalConductance',
  'thermalResistance',
  'heatCapacity',
  'fraction',
  'speed',
]

/** Mistakes so common that the fix is known: Celsius and Fahrenheit by their letters alone. */
function scaleFix(unit: string, dimension: Dimension): string | undefined {
  if (dimension !== 'temperature' && dimension !== 'temperatureDifference') return undefined
  return unit === 'C' ? 'write "degC"' : unit === 'F' ? 'write "degF"' : undefined
}

function readUnitOf(word: string, dimension: Dimension, text: string): Reading<Unit> {
  if (word === '') {
    if (dimension === 'count' || dimension === 'fraction')
      return { ok: true, value: { factor: 1, exponents: dimensionExponents(dimension) } }
    const { names, home } = printUnits(dimension)
    return fail(
      'UNIT_MISSING',
      'the number has no unit',
      wanted(dimension),
      text,
      `write "${text} ${names[home]}" if that is meant`,
    )
  }
  const fix = scaleFix(word, dimension)
  const unit = parseUnit(word)
  if (!unit) {
    const nearest = nearestNames(word, [...printUnits(dimension).names, ...Object.keys(SPELLINGS), ...Object.keys(ATOMS), 'AWG'])
    const hint = nearest.length ? `nearest: ${nearest.map((name) => `"${name}"`).join(', ')}` : undefined
    return fail('UNIT_UNKNOWN', `"${word.slice(0, 30)}" is not a known unit`, wanted(dimension), text, fix ?? hint)
  }
  if (!sameExponents(unit.exponents, dimensionExponents(dimension))) {
    return fail('UNIT_MISMATCH', `"${word}" measures ${measured(unit)}`, wanted(dimension), text, fix)
  }
  return { ok: true, value: unit }
}

function readRelation(text: string): { relation: Common['relation']; rest: string } {
  const mark = /^(?:<=|≤|at most\b|>=|≥|at least\b)\s*/.exec(text)?.[0] ?? ''
  const relation = mark === '' ? 'equal' : /^(?:<|≤|at most)/.test(mark) ? 'at most' : 'at least'
  return { relation, rest: text.slice(mark.length) }
}

/** Takes `(uniform)` or `(k=3)` off the end. */
function readLaw(text: string): { law: Common['law']; rest: string; stated: boolean } {
  const match = /\s*\(\s*(?:(uniform)|k\s*=\s*(\d+(?:\.\d+)?))\s*\)$/.exec(text)
  if (!match || Number(match[2]) === 0) return { law: { uniform: false, k: 2 }, rest: text, stated: false }
  return { law: { uniform: match[1] !== undefined, k: Number(match[2] ?? 2) }, rest: text.slice(0, match.index), stated: true }
}

/** The wire gauge is written before or after its number, and large wires as 4/0 or 0000. */
function plainGauge(text: string): string {
  const match = /^(?:AWG\s*(\d+(?:\.\d+)?)(\/0)?|(\d+(?:\.\d+)?)(\/0)?\s*AWG)$/i.exec(text)
  if (!match) return text
  const digits = match[1] ?? match[3]
  const number = match[2] || match[4] ? 1 - Number(digits) : /^0+$/.test(digits) ? 1 - digits.length : Number(digits)
  return `${number} AWG`
}

/** Splits "1.2 kOhm" in number and unit word. */
function split(text: string): { value: number; word: string } | undefined {
  const digits = NUMBER.exec(text)?.[0]
  if (digits === undefined || !Number.isFinite(Number(digits))) return undefined
  const word = text.slice(digits.length).trim()
  // A digit, comma or second point after the number belongs to a number this project does not read, not to a unit.
  return /^[,.\d']/.test(word) ? undefined : { value: Number(digits), word }
}

function unreadable(piece: string, dimension: Dimension): Failure {
  const fix = /\d,\d/.test(piece) ? 'write a decimal point, and no separators between thousands' : undefined
  return fail('NUMBER_UNREADABLE', 'no number can be read', wanted(dimension), piece, fix)
}

function readRange(low: string, high: string, common: Omit<Common, 'number'>, dimension: Dimension): Reading<Written> {
  const from = split(low)
  const to = split(high)
  if (!from) return unreadable(low, dimension)
  if (!to) return unreadable(high, dimension)
  const upper = readUnitOf(to.word, dimension, `${low}..${high}`)
  const lower = from.word === '' ? upper : readUnitOf(from.word, dimension, low)
  if (!upper.ok) return upper
  if (!lower.ok) return lower
  const number = { value: from.value, unit: lower.value }
  return { ok: true, value: { ...common, number, upper: { value: to.value, unit: upper.value } } }
}

/** The dimension of a tolerance: that of a difference on the scale. */
function differenceOf(dimension: Dimension): Dimension {
  if (dimension === 'temperature') return 'temperatureDifference'
  return dimension === 'absolutePressure' ? 'pressureDifference' : dimension
}

function readTolerance(left: string, right: string, common: Omit<Common, 'number'>, dimension: Dimension): Reading<Written> {
  const nominal = split(left)
  const width = split(right)
  if (!nominal) return unreadable(left, dimension)
  if (!width)
    return fail('TOLERANCE_UNREADABLE', 'what follows +- cannot be read', 'a tolerance, as in "+- 5 %" or "+- 2 K"', right)
  if (width.value < 0) return fail('TOLERANCE_NEGATIVE', 'the tolerance is negative', 'the size of the tolerance', right)
  const percent = width.word === '%' && !(nominal.word === '' && dimension === 'fraction') && nominal.word !== '%'
  const unit = readUnitOf(nominal.word === '' && !percent ? width.word : nominal.word, dimension, left)
  if (!unit.ok) return unit
  const number = { value: nominal.value, unit: unit.value }
  if (percent) {
    const fix = 'give it in kelvin, as in "95 degC +- 2 K"'
    if (dimension === 'temperature')
      return fail('TOLERANCE_RELATIVE', 'a percentage of a temperature has no meaning', 'a tolerance in kelvin', right, fix)
    return { ok: true, value: { ...common, number, tolerance: { value: width.value, percent: true } } }
  }
  if (unit.value.gauge)
    return fail('TOLERANCE_UNREADABLE', 'a wire gauge takes a percentage of its area', 'a tolerance, as in "+- 5 %"', right)
  const step = readUnitOf(width.word, differenceOf(dimension), right)
  if (!step.ok)
    return { ...step, fix: step.code === 'UNIT_MISSING' ? `write "${right} ${nominal.word}" or "${right} %"` : step.fix }
  return { ok: true, value: { ...common, number, tolerance: { value: width.value, percent: false, unit: step.value } } }
}

/** Takes `abs` off the end of a pressure. */
function readAbsolute(text: string, dimension: Dimension): { absolute: boolean; rest: string } {
  const match = dimension === 'absolutePressure' ? /\s+abs(?=\s*(?:\+-|±|\.\.|$))/g : undefined
  return { absolute: match?.test(text) ?? false, rest: match ? text.replace(match, '') : text }
}

/**
 * The parts of a quantity as written, with units known to fit the dimension; never throws.
 * Grammar: [relation] number [unit] ['abs'] [('+-' number (unit | '%') | '..' number unit)] ['(uniform)' | '(k=' number ')'].
 */
export function readWritten(text: string, dimension: Dimension): Reading<Written> {
  const trimmed = text.trim().replace(/\s+/g, ' ')
  if (trimmed === '') return fail('QUANTITY_EMPTY', 'the quantity is missing', wanted(dimension), '')
  if (trimmed.length > LONGEST)
    return fail('NUMBER_UNREADABLE', 'the text is too long for a quantity', wanted(dimension), trimmed)
  const { law, rest: lawless } = readLaw(trimmed.replace(/\u2212/g, '-'))
  const { relation, rest: unrelated } = readRelation(lawless)
  const { absolute, rest } = readAbsolute(unrelated, dimension)
  const common = { absolute, relation, law }
  const [left, right, ...more] = rest.split(/\+\/?-|±|\.\.+|…/).map((piece) => plainGauge(piece.trim()))
  if (right === undefined) return readSingle(left, common, dimension)
  if (more.length) return fail('TOLERANCE_UNREADABLE', 'there is more than one tolerance', 'one tolerance or one range', trimmed)
  if (relation !== 'equal') {
    return fail('TOLERANCE_WITH_LIMIT', 'a one-sided limit takes no tolerance', 'either "<= 18 V" or "18 V +- 5 %"', trimmed)
  }
  return /\.\.|…/.test(rest) ? readRange(left, right, common, dimension) : readTolerance(left, right, common, dimension)
}

function readSingle(text: string, common: Omit<Common, 'number'>, dimension: Dimension): Reading<Written> {
  const nominal = split(text)
  if (!nominal) return unreadable(text, dimension)
  const unit = readUnitOf(nominal.word, dimension, text)
  return unit.ok ? { ok: true, value: { ...common, number: { value: nominal.value, unit: unit.value } } } : unit
}
