import fc from 'fast-check'
import Quantities from 'js-quantities'
import { describe, expect, it } from 'vitest'
import unit from 'unitmath'
import { convert, convertDifference, HalfsplitError, parseUnit } from './index.js'
import { ATOMS, SPELLINGS } from './unit-table.js'

/** Relative deviation, absolute where the reference is nought. */
function deviation(value: number, reference: number): number {
  return Math.abs(value - reference) / (Math.abs(reference) || 1)
}

describe('units', () => {
  it.each<[number, string, string, number]>([
    // Exact by definition (international yard and pound, SI).
    [1, '[in_i]', 'mm', 25.4],
    [1, 'bar', 'kPa', 100],
    [1, 'kW.h', 'MJ', 3.6],
    [1, 'm3/s', 'l/min', 60000],
    [1, 'l/(s.bar)', 'm3/(s.Pa)', 1e-8],
    [60, 'rpm', 'rad/s', 2 * Math.PI],
    [1, 'kcmil', '[cml_i]', 1000],
    [1, 'Nm', 'J', 1],
    [1, 'mm²', 'm2', 1e-6],
    [1, '/min', 'Hz', 1 / 60],
    [212, 'degF', '°C', 100],
    [0, 'K', 'Cel', -273.15],
    [36, 'AWG', 'mm2', (Math.PI / 4) * 0.127 ** 2],
  ])('%f %s in %s is %f', (value, from, to, reference) =>
    expect(deviation(convert(value, from, to), reference)).toBeLessThanOrEqual(1e-12),
  )

  it('know a difference from a reading', () => {
    expect(deviation(convertDifference(18, 'degF', 'K'), 10)).toBeLessThanOrEqual(1e-12)
    expect(deviation(convert(50, 'degF', 'degC'), 10)).toBeLessThanOrEqual(1e-12)
    expect(() => convertDifference(1, 'AWG', 'mm2')).toThrow(HalfsplitError)
  })

  it('refuse what does not fit, with a code', () => {
    expect(() => convert(1, 'V', 'Ohm')).toThrow(expect.objectContaining({ code: 'UNIT_MISMATCH' }) as Error)
    expect(() => convert(1, 'Volt', 'V')).toThrow(expect.objectContaining({ code: 'UNIT_UNKNOWN' }) as Error)
    expect(() => convert(1, 'Hz', 'rad/s')).toThrow(expect.objectContaining({ code: 'UNIT_MISMATCH' }) as Error)
  })

  it.each(['', '(', ')', 'm/', 'm..s', '/', 'Cel/s', 'degF2', 'kpsi', '2m', 'm10', 'toString'])('%j is no unit', (text) => {
    expect(parseUnit(text)).toBeUndefined()
  })

  it('every spelling of the table stands for a unit', () => {
    for (const name of [...Object.keys(SPELLINGS), ...Object.keys(ATOMS)])
      expect([name, parseUnit(name)]).not.toContain(undefined)
  })

  it('there and back is identity', () => {
    const names = Object.keys(ATOMS)
    const alike = (a: string) => names.filter((b) => ATOMS[b].exponents.join() === ATOMS[a].exponents.join())
    const pairs = names.flatMap((a) => alike(a).map((b) => [a, b] as const))
    const value = fc.double({ min: -1e6, max: 1e6, noNaN: true })
    fc.assert(
      fc.property(fc.constantFrom(...pairs), value, ([a, b], x) => {
        const back = convert(convert(x, a, b), b, a)
        expect(Math.abs(back - x)).toBeLessThanOrEqual(1e-12 * Math.max(1000, Math.abs(x)))
      }),
      { seed: 16, numRuns: 2000 },
    )
  })
})

describe('peers agree on ordinary units', () => {
  it.each([
    ['[in_i]', 'in', 'mm'],
    ['[ft_i]', 'ft', 'm'],
    ['[lb_av]', 'lb', 'kg'],
    ['[gal_us]', 'gal', 'L'],
    ['[psi]', 'psi', 'kPa'],
    ['[lbf_av]', 'lbf', 'N'],
    ['bar', 'bar', 'kPa'],
    ['h', 'hr', 's'],
  ])('%s', (ours, theirs, to) => {
    // Their tables round pound-force and psi at the 6th to 7th digit.
    const own = convert(1, ours, to)
    expect(deviation(own, unit(1, theirs).to(to).getValue())).toBeLessThanOrEqual(1e-5)
    expect(
      deviation(own, Quantities(1, theirs === 'hr' ? 'hour' : theirs).to(to === 'L' ? 'liter' : to).scalar),
    ).toBeLessThanOrEqual(1e-5)
  })
})
