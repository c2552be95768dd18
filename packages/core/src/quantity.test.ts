import { describe, expect, it } from 'vitest'
import { ISSUE_CODES } from './issue-codes.js'
import { DIMENSIONS, dimensionFacts, formatQuantity, formatValue, parseQuantity, type Dimension, type Quantity } from './index.js'

function parsed(text: string, dimension: Dimension): Quantity {
  const result = parseQuantity(text, dimension)
  if (!result.ok) throw new Error(`${text}: ${result.code}`)
  return result.value
}

function code(text: string, dimension: Dimension): string {
  const result = parseQuantity(text, dimension)
  return result.ok ? 'none' : result.code
}

describe('reading a quantity', () => {
  it.each<[string, Dimension, number, number, number, number]>([
    ['64 Ohm +- 12 %', 'resistance', 64, 56.32, 71.68, 3.84],
    ['64 Ω ± 12%', 'resistance', 64, 56.32, 71.68, 3.84],
    ['95 +- 2 degC', 'temperature', 368.15, 366.15, 370.15, 1],
    ['95 degC +- 2 K', 'temperature', 368.15, 366.15, 370.15, 1],
    ['203 degF +- 9 degF', 'temperature', 368.15, 363.15, 373.15, 2.5],
    ['0.5..0.7 bar', 'pressureDifference', 60000, 50000, 70000, 5000],
    ['0.5..0.7 bar', 'absolutePressure', 161325, 151325, 171325, 5000],
    ['7 bar abs +- 2 %', 'absolutePressure', 7e5, 6.86e5, 7.14e5, 7000],
    ['27.6 V +- 0.4 V', 'voltage', 27.6, 27.2, 28, 0.2],
    ['27.6 V +- 0.3 V (k=3)', 'voltage', 27.6, 27.3, 27.9, 0.1],
    ['27.6 ± 0.3 V (uniform)', 'voltage', 27.6, 27.3, 27.9, 0.3 / Math.sqrt(3)],
    ['18 AWG +- 4 %', 'area', 8.2305e-7, 7.9013e-7, 8.5597e-7, 1.6461e-8],
  ])('%s as %s: nominal, limits and standard deviation', (text, dimension, value, low, high, sd) => {
    const q = parsed(text, dimension)
    const close = (x: number | undefined, y: number) => expect(Math.abs((x ?? Number.NaN) / y - 1)).toBeLessThan(1e-4)
    close(q.value, value)
    close(q.low, low)
    close(q.high, high)
    close(q.sd, sd)
  })

  it.each<[string, Dimension, number]>([
    ['4 mm2', 'area', 4e-6],
    ['4 mm²', 'area', 4e-6],
    ['24V', 'voltage', 24],
    ['1.2 kOhm', 'resistance', 1200],
    ['90 psi', 'absolutePressure', 101325 + 90 * 6894.757293168],
    ['7 bar abs', 'absolutePressure', 7e5],
    ['-0.3 bar', 'absolutePressure', 71325],
    ['−20 °C', 'temperature', 253.15],
    ['18 degF', 'temperatureDifference', 10],
    ['2 l/(s.bar)', 'sonicConductance', 2e-8],
    ['12 %', 'fraction', 0.12],
    ['0.12', 'fraction', 0.12],
    ['4/0 AWG', 'area', (Math.PI / 4) * 0.011684 ** 2],
    ['AWG 0000', 'area', (Math.PI / 4) * 0.011684 ** 2],
  ])('%s as %s', (text, dimension, value) => {
    const q = parsed(text, dimension)
    expect(Math.abs(q.value / value - 1)).toBeLessThan(1e-12)
    expect(q).toMatchObject({ sd: 0, law: 'exact', relation: 'equal', text })
  })

  it('keeps one-sided limits as such', () => {
    expect(parsed('<= 18 V', 'voltage').relation).toBe('at most')
    expect(parsed('≥5 bar', 'absolutePressure').relation).toBe('at least')
  })

  it.each<[string, Dimension, string]>([
    ['', 'voltage', 'QUANTITY_EMPTY'],
    ['  ', 'voltage', 'QUANTITY_EMPTY'],
    ['NaN V', 'voltage', 'NUMBER_UNREADABLE'],
    ['Infinity V', 'voltage', 'NUMBER_UNREADABLE'],
    ['1e400 V', 'voltage', 'NUMBER_UNREADABLE'],
    ['1,200 V', 'voltage', 'NUMBER_UNREADABLE'],
    ['1.2.3 V', 'voltage', 'NUMBER_UNREADABLE'],
    ['9'.repeat(500), 'voltage', 'NUMBER_UNREADABLE'],
    ['1e99 V', 'voltage', 'QUANTITY_ABSURD'],
    ['24', 'voltage', 'UNIT_MISSING'],
    ['64 Ohm +- 12', 'resistance', 'UNIT_MISSING'],
    ['24 Volt', 'voltage', 'UNIT_UNKNOWN'],
    ['24 constructor', 'voltage', 'UNIT_UNKNOWN'],
    ['92 V', 'resistance', 'UNIT_MISMATCH'],
    ['95 C', 'temperature', 'UNIT_MISMATCH'],
    ['50 Hz', 'angularSpeed', 'UNIT_MISMATCH'],
    ['0.7..0.5 bar', 'absolutePressure', 'RANGE_REVERSED'],
    ['5 V +- x', 'voltage', 'TOLERANCE_UNREADABLE'],
    ['1..2..3 V', 'voltage', 'TOLERANCE_UNREADABLE'],
    ['18 AWG +- 1 AWG', 'area', 'TOLERANCE_UNREADABLE'],
    ['5 V +- -1 V', 'voltage', 'TOLERANCE_NEGATIVE'],
    ['95 degC +- 2 %', 'temperature', 'TOLERANCE_RELATIVE'],
    ['<= 18 V +- 2 V', 'voltage', 'TOLERANCE_WITH_LIMIT'],
    ['-1 Ohm', 'resistance', 'QUANTITY_NEGATIVE'],
    ['1 Ohm +- 2 Ohm', 'resistance', 'QUANTITY_NEGATIVE'],
    ['-300 degC', 'temperature', 'BELOW_ABSOLUTE_ZERO'],
    ['-2 bar', 'absolutePressure', 'BELOW_VACUUM'],
  ])('%j as %s is refused with %s, a code of the table', (text, dimension, expected) => {
    expect(code(text, dimension)).toBe(expected)
    expect(ISSUE_CODES).toHaveProperty(expected)
  })

  it('says what to write instead', () => {
    expect(parseQuantity('95 C', 'temperature')).toMatchObject({ fix: 'write "degC"' })
    expect(parseQuantity('92 kohn', 'resistance')).toMatchObject({ fix: expect.stringContaining('"kohm"') as string })
    expect(parseQuantity('64 Ohm +- 12', 'resistance')).toMatchObject({ fix: 'write "12 Ohm" or "12 %"' })
  })

  it('reads the example of every dimension', () => {
    for (const dimension of DIMENSIONS) expect(code(dimensionFacts(dimension).example, dimension)).toBe('none')
  })
})

describe('printing', () => {
  it.each<[number, Dimension, string]>([
    [11.88, 'voltage', '11.9 V'],
    [0.48, 'current', '0.48 A'],
    [57.6, 'resistance', '57.6 Ohm'],
    [120e3, 'resistance', '120 kOhm'],
    [999.96, 'resistance', '1 kOhm'],
    [751325, 'absolutePressure', '6.5 bar'],
    [101325, 'absolutePressure', '0 bar'],
    [368.15, 'temperature', '95 degC'],
    [4e-6, 'area', '4 mm2'],
    [1e-9, 'voltage', '0.000001 mV'],
    [1e13, 'resistance', '10000 GOhm'],
    [0, 'voltage', '0 V'],
    [Number.NaN, 'voltage', 'no number'],
    [Infinity, 'resistance', 'infinite'],
  ])('%f of %s is %s', (value, dimension, text) => expect(formatValue(value, dimension)).toBe(text))

  it('follows unit, digits and display step', () => {
    expect(formatValue(11.876, 'voltage', { resolution: 0.01 })).toBe('11.88 V')
    expect(formatValue(12, 'voltage', { resolution: 0.01 })).toBe('12.00 V')
    expect(formatValue(11.876, 'voltage', { digits: 4 })).toBe('11.88 V')
    expect(formatValue(751325, 'absolutePressure', { unit: 'kPa abs' })).toBe('751 kPa abs')
    expect(formatValue(368.15, 'temperature', { unit: 'degF' })).toBe('203 degF')
    expect(() => formatValue(1, 'voltage', { unit: 'volt' })).toThrow('not a known unit')
  })

  it('prints a quantity in its canonical spelling', () => {
    expect(formatQuantity(parsed('64 Ohm +- 12 %', 'resistance'))).toBe('64 Ohm +- 7.68 Ohm')
    expect(formatQuantity(parsed('60..80 degC (uniform)', 'temperature'))).toBe('70 degC +- 10 K (uniform)')
    expect(formatQuantity(parsed('<= 18 V', 'voltage'))).toBe('<= 18 V')
  })
})
