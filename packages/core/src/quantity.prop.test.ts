import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { DIMENSIONS, type Dimension, formatQuantity, parseQuantity, type Quantity, STANDARD_ATMOSPHERE } from './index.js'

/** Where the printed scale has its zero, so that closeness is judged by the size of the printed number. */
const ZERO: Partial<Record<Dimension, number>> = { temperature: 273.15, absolutePressure: STANDARD_ATMOSPHERE }

const law = fc.oneof(
  fc.constant({ law: 'uniform' as const, k: Math.sqrt(3) }),
  fc.constantFrom(2, 3, 2.5).map((k) => ({ law: 'normal' as const, k })),
)

const quantity: fc.Arbitrary<Quantity> = fc
  .record({
    dimension: fc.constantFrom(...DIMENSIONS),
    value: fc.double({ min: -3, max: 6, noNaN: true }).map((exponent) => 10 ** exponent),
    relative: fc.oneof(fc.constant(0), fc.double({ min: 1e-4, max: 0.9, noNaN: true })),
    law,
    relation: fc.constantFrom('equal' as const, 'at most' as const, 'at least' as const),
  })
  .map(({ dimension, value, relative, law, relation }) => {
    const centre = value + (ZERO[dimension] ?? 0)
    if (relative === 0) return { dimension, value: centre, sd: 0, law: 'exact', relation, text: '' }
    const half = relative * value
    return {
      dimension,
      value: centre,
      low: centre - half,
      high: centre + half,
      sd: half / law.k,
      law: law.law,
      relation: 'equal',
      text: '',
    }
  })

describe('quantities', () => {
  it('print then parse is identity', () => {
    fc.assert(
      fc.property(quantity, (q) => {
        const text = formatQuantity(q)
        const back = parseQuantity(text, q.dimension)
        if (!back.ok) throw new Error(`${text}: ${back.code}`)
        const close = (a: number | undefined, b: number | undefined) =>
          expect(Math.abs((a ?? 0) - (b ?? 0))).toBeLessThanOrEqual(1e-11 * Math.abs(q.value) + 1e-15)
        expect({ relation: back.value.relation, law: back.value.law }).toEqual({ relation: q.relation, law: q.law })
        close(back.value.value, q.value)
        close(back.value.low, q.low)
        close(back.value.high, q.high)
        expect(Math.abs(back.value.sd - q.sd)).toBeLessThanOrEqual(2e-6 * q.sd + 1e-11 * Math.abs(q.value))
        expect(formatQuantity(back.value)).toBe(text)
      }),
      { seed: 20, numRuns: 2000 },
    )
  })

  it('any text whatever gives a quantity or an answer, never an exception', () => {
    const pieces = fc.constantFrom(
      '1',
      '-2.5',
      '1e9',
      ' ',
      'V',
      'Ohm',
      '%',
      '+-',
      '..',
      'abs',
      '(k=3)',
      '(uniform)',
      'AWG',
      '/0',
      '<=',
      '(',
      '[',
      '\0',
      '±',
    )
    const text = fc.oneof(
      fc.string({ unit: 'binary' }),
      fc.array(pieces, { maxLength: 8 }).map((list) => list.join('')),
    )
    fc.assert(
      fc.property(text, fc.constantFrom(...DIMENSIONS), (words, dimension) => {
        const result = parseQuantity(words, dimension)
        const answered = result.ok ? Number.isFinite(result.value.value) : /^[A-Z_]+$/.test(result.code)
        expect(answered).toBe(true)
      }),
      { seed: 21, numRuns: 3000 },
    )
  })

  it('a wider tolerance never narrows a limit', () => {
    fc.assert(
      fc.property(fc.integer({ min: 0, max: 40 }), fc.integer({ min: 0, max: 40 }), (a, b) => {
        const limits = (percent: number) => parseQuantity(`50 Ohm +- ${percent} %`, 'resistance')
        const [narrow, wide] = [limits(Math.min(a, b)), limits(Math.max(a, b))]
        if (!narrow.ok || !wide.ok) throw new Error('unreadable')
        expect(wide.value.low ?? 50).toBeLessThanOrEqual(narrow.value.low ?? 50)
        expect(wide.value.high ?? 50).toBeGreaterThanOrEqual(narrow.value.high ?? 50)
      }),
      { seed: 22 },
    )
  })
})
