import { awgArea, awgFromArea } from './copper.js'
import { HalfsplitError } from './errors.js'
import { ATOMS, type Exponents, NONE, PREFIXES, SPELLINGS } from './unit-table.js'

/** A unit: SI = (x + offset)·factor. Only temperature scales have an offset; `gauge` marks the wire gauge, which has no factor. */
export interface Unit {
  factor: number
  exponents: Exponents
  offset?: number
  gauge?: true
}

const cache = new Map<string, Unit | undefined>()

/**
 * Reads a unit written as a UCUM code or as the trade spells it: "kOhm", "mm²", "l/(s.bar)", "[ft_i].[lbf_av]", "psi", "AWG".
 * @returns undefined where it is not a unit (never throws)
 * Source of the codes: UCUM.  Checked in units.test.ts and by the unit rows of the handbook.
 */
export function parseUnit(text: string): Unit | undefined {
  if (text.length > 60) return undefined
  if (!cache.has(text)) {
    if (cache.size > 2000) cache.clear()
    cache.set(text, readUnit(text))
  }
  return cache.get(text)
}

function readUnit(text: string): Unit | undefined {
  const plain = text
    .trim()
    .replace(/[²³]/g, (digit) => (digit === '²' ? '2' : '3'))
    .replace(/[\u03a9\u2126]/g, 'Ohm')
    .replace(/[\u00b5\u03bc]/g, 'u')
    .replace(/[·*]/g, '.')
    .replace(/\u00b0/g, 'deg')
    // UCUM's annotations name what is counted and do not change the unit: {rev}/min.
    .replace(/\{[^{}]*\}/g, '')
  if (plain === 'AWG') return { factor: Number.NaN, exponents: [2, 0, 0, 0, 0, 0], gauge: true }
  const reader = { rest: Object.hasOwn(SPELLINGS, plain) ? SPELLINGS[plain] : plain }
  const unit = readProduct(reader)
  return reader.rest === '' ? unit : undefined
}

function combine(a: Unit, b: Unit, sign: 1 | -1): Unit | undefined {
  if (a.offset !== undefined || b.offset !== undefined) return undefined
  return { factor: a.factor * b.factor ** sign, exponents: a.exponents.map((e, i) => e + sign * b.exponents[i]) }
}

/** product := ['/'] factor (('.' | '/') factor)*, from left to right as UCUM has it. */
function readProduct(reader: { rest: string }): Unit | undefined {
  let product: Unit | undefined
  let sign: 1 | -1 = 1
  if (reader.rest.startsWith('/')) product = { factor: 1, exponents: NONE }
  else product = readFactor(reader)
  while (product && /^[./]/.test(reader.rest)) {
    sign = reader.rest[0] === '/' ? -1 : 1
    reader.rest = reader.rest.slice(1)
    const factor = readFactor(reader)
    product = factor && combine(product, factor, sign)
  }
  return product
}

/** factor := '(' product ')' | name [exponent]. */
function readFactor(reader: { rest: string }): Unit | undefined {
  if (reader.rest.startsWith('(')) {
    reader.rest = reader.rest.slice(1)
    const inner = readProduct(reader)
    if (!reader.rest.startsWith(')')) return undefined
    reader.rest = reader.rest.slice(1)
    return inner
  }
  const word = /^(?:\[[^\]]*\]|[^./()])+/.exec(reader.rest)?.[0] ?? ''
  reader.rest = reader.rest.slice(word.length)
  return readName(word) ?? readPower(word)
}

function readPower(word: string): Unit | undefined {
  const [, name, digits] = /^(.*?[^\d+-])([+-]?\d)$/.exec(word) ?? []
  const base = name === undefined ? undefined : readName(name)
  if (!base || base.offset !== undefined) return undefined
  const power = Number(digits)
  return { factor: base.factor ** power, exponents: base.exponents.map((e) => e * power) }
}

function readName(name: string): Unit | undefined {
  const spelled = Object.hasOwn(SPELLINGS, name) ? SPELLINGS[name] : name
  if (spelled !== name) return readUnit(spelled)
  if (Object.hasOwn(ATOMS, name)) return ATOMS[name]
  if (/^[1-9]\d{0,5}$/.test(name)) return { factor: Number(name), exponents: NONE }
  for (const prefix of Object.keys(PREFIXES)) {
    const stem = name.slice(prefix.length)
    const atom = name.startsWith(prefix) && Object.hasOwn(ATOMS, stem) ? ATOMS[stem] : undefined
    if (atom?.metric) return { factor: atom.factor * PREFIXES[prefix], exponents: atom.exponents }
  }
  return undefined
}

/** Whether two units measure quantities that may be compared (torque and energy count as one: their factors agree). */
export function sameExponents(a: Exponents, b: Exponents): boolean {
  return a.every((e, i) => e === b[i])
}

/** SI value of x in the unit, as a point of its scale. */
export function toSI(x: number, unit: Unit): number {
  return unit.gauge ? awgArea(x) : (x + (unit.offset ?? 0)) * unit.factor
}

/** Value in the unit of an SI value, as a point of its scale. */
export function fromSI(si: number, unit: Unit): number {
  return unit.gauge ? awgFromArea(si) : si / unit.factor - (unit.offset ?? 0)
}

function unitOrThrow(text: string): Unit {
  const unit = parseUnit(text)
  if (!unit) throw new HalfsplitError('UNIT_UNKNOWN', `"${text.slice(0, 60)}" is not a known unit`)
  return unit
}

function pair(fromUnit: string, toUnit: string): [Unit, Unit] {
  const from = unitOrThrow(fromUnit)
  const to = unitOrThrow(toUnit)
  if (sameExponents(from.exponents, to.exponents)) return [from, to]
  throw new HalfsplitError('UNIT_MISMATCH', `"${fromUnit}" and "${toUnit}" measure different quantities`)
}

/**
 * Converts a value between two units of the same quantity; a temperature is a reading on its scale (50 degF is 10 degC).
 * AWG converts to and from areas, along its non-linear rule.
 * @param fromUnit @param toUnit UCUM codes or trade spellings
 * @throws HalfsplitError UNIT_UNKNOWN, UNIT_MISMATCH
 * Source of the factors: SI and NIST SP 811, see unit-table.ts.  Checked in units.test.ts and by the handbook's unit rows.
 */
export function convert(value: number, fromUnit: string, toUnit: string): number {
  const [from, to] = pair(fromUnit, toUnit)
  if (from.offset === undefined && to.offset === undefined && !from.gauge && !to.gauge) return (value * from.factor) / to.factor
  return fromSI(toSI(value, from), to)
}

/**
 * Converts a difference between two units: a difference of 18 degF is one of 10 K.
 * @throws HalfsplitError UNIT_UNKNOWN, UNIT_MISMATCH (also for AWG, whose steps are not equal)
 */
export function convertDifference(value: number, fromUnit: string, toUnit: string): number {
  const [from, to] = pair(fromUnit, toUnit)
  if (from.gauge || to.gauge) throw new HalfsplitError('UNIT_MISMATCH', 'wire gauges have no differences')
  return (value * from.factor) / to.factor
}
