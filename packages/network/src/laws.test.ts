import { describe, expect, test } from 'vitest'
import { evaluate, LAMINAR_RATIO, unfitLaw } from './laws.js'
import type { Law } from './types.js'

const bar = (value: number) => value * 1e5

const laws: { name: string; law: Law; points: [number, number][] }[] = [
  {
    name: 'linear',
    law: { law: 'linear', g: 0.25 },
    points: [
      [3, 1],
      [-2, 5],
    ],
  },
  {
    name: 'filament',
    law: { law: 'filament', cold: 2.1, knee: 1.2, exponent: 0.385 },
    points: [
      [0, 0],
      [0.01, 0],
      [1.2, 0],
      [24, 0.5],
      [0, 13],
    ],
  },
  {
    name: 'diode',
    law: { law: 'diode', saturation: 1e-9, thermalVoltage: 0.0465, series: 0.02 },
    points: [
      [0, 0],
      [0.3, 0],
      [0.7, 0],
      [1.1, 0],
      [24, 0],
      [-0.01, 0],
      [0, 24],
    ],
  },
  {
    name: 'diode with breakdown',
    law: { law: 'diode', saturation: 1e-9, thermalVoltage: 0.0465, series: 0.5, breakdown: 36 },
    points: [
      [0, 35],
      [0, 36.2],
      [0, 38],
      [0.8, 0],
      [0, 60],
    ],
  },
  {
    name: 'orifice',
    law: { law: 'orifice', c: 2e-8, b: 0.3 },
    points: [
      [bar(7), bar(1)],
      [bar(7), bar(2.2)],
      [bar(7), bar(6)],
      [bar(7), bar(6.998)],
      [bar(1), bar(7)],
      [bar(6), bar(7)],
    ],
  },
  {
    name: 'regulator',
    law: { law: 'regulator', c: 1e-8, b: 0.4, set: bar(7.5), band: bar(0.5), creep: 0 },
    points: [
      [bar(9), bar(7.2)],
      [bar(9), bar(7.45)],
      [bar(9), bar(6.5)],
      [bar(9), bar(8)],
      [bar(9), bar(2)],
    ],
  },
  {
    name: 'check',
    law: { law: 'check', c: 1e-8, b: 0.4, leak: 1e-3 },
    points: [
      [bar(7), bar(6)],
      [bar(6), bar(7)],
      [bar(7), bar(1)],
    ],
  },
  {
    name: 'square-root',
    law: { law: 'square-root', k: 1e-7, laminar: 2000 },
    points: [
      [0, 0],
      [500, 0],
      [0, 2000],
      [3e5, 1e5],
    ],
  },
  {
    name: 'drag',
    law: { law: 'drag', dry: 2, viscous: 0.01, smooth: 0.5 },
    points: [
      [0, 0],
      [0.2, 0],
      [-1, 0],
      [300, 0],
    ],
  },
]

describe.each(laws)('$name', ({ law, points }) => {
  test.each(points)('slopes at (%d, %d) are those of the curve and have the signs the elimination relies on', (xa, xb) => {
    const { da, db } = { ...evaluate(law, xa, xb) }
    const size = Math.max(1e-3, Math.abs(xa), Math.abs(xb))
    const h = law.law === 'diode' ? 1e-7 : 1e-6 * size
    const slope = (f: (d: number) => number) => (f(h) - f(-h)) / (2 * h)
    const scale = Math.max(Math.abs(da), Math.abs(db), 1e-14)
    expect(Math.abs(da - slope((d) => evaluate(law, xa + d, xb).f))).toBeLessThan(2e-5 * scale + 1e-12)
    expect(Math.abs(db - slope((d) => evaluate(law, xa, xb + d).f))).toBeLessThan(2e-5 * scale + 1e-12)
    expect(da).toBeGreaterThanOrEqual(0)
    expect(db).toBeLessThanOrEqual(0)
  })

  test('carries nothing at rest and its flow goes from the higher to the lower side', () => {
    const at = 'set' in law || 'c' in law ? bar(3) : 0
    expect(evaluate(law, at, at).f).toBeCloseTo(0, 15)
    for (const [xa, xb] of points) expect(evaluate(law, xa, xb).f * (xa - xb)).toBeGreaterThanOrEqual(0)
  })
})

test('a diode behind a gap carries what the gap lets through, either way', () => {
  const law: Law = { law: 'diode', saturation: 3.7e-8, thermalVoltage: 0.045, series: 1e10 }
  for (const v of [24, 0.5, -0.5, -24, -400, -1000]) {
    const { f, da } = evaluate(law, v, 0)
    expect(Math.abs(f)).toBeLessThanOrEqual(Math.abs(v) / 1e10)
    expect(da).toBeLessThanOrEqual(1e-10)
    expect(da).toBeGreaterThanOrEqual(0)
  }
})

test('a diode follows Shockley: the current it gives puts the whole voltage on junction and series resistance', () => {
  const [saturation, thermalVoltage, series] = [1e-9, 0.0465, 0.02]
  for (const v of [0.2, 0.5, 0.8, 1.2, 5]) {
    const i = evaluate({ law: 'diode', saturation, thermalVoltage, series }, v, 0).f
    expect(thermalVoltage * Math.log1p(i / saturation) + series * i).toBeCloseTo(v, 10)
  }
  expect(evaluate({ law: 'diode', saturation, thermalVoltage, series }, -10, 0).f).toBeCloseTo(-saturation, 15)
})

test('an orifice is continuous where it chokes and where it turns laminar, and choked it no longer sees the outlet', () => {
  const law: Law = { law: 'orifice', c: 2e-8, b: 0.3 }
  const at = (r: number) => evaluate(law, bar(7), bar(7) * r).f
  for (const r of [0.3, LAMINAR_RATIO]) expect(at(r - 1e-9) / at(r + 1e-9)).toBeCloseTo(1, 5)
  expect(at(0.29)).toBe(at(0.05))
  expect(at(0.9995)).toBeCloseTo(at(LAMINAR_RATIO) / 2, 12)
})

test('a filament has its cold resistance at no voltage, and much more when lit', () => {
  const law: Law = { law: 'filament', cold: 2, knee: 1.2, exponent: 0.385 }
  expect(evaluate(law, 1e-6, 0).f * 2).toBeCloseTo(1e-6, 12)
  expect(24 / evaluate(law, 24, 0).f).toBeGreaterThan(18)
})

test('a regulator is shut at its set pressure, full open a band below it, and creeps where it must', () => {
  const law: Law = { law: 'regulator', c: 1e-8, b: 0.4, set: bar(7.5), band: bar(0.5), creep: 0.01 }
  const orifice = (pb: number) => evaluate({ law: 'orifice', c: 1e-8, b: 0.4 }, bar(9), pb).f
  expect(evaluate(law, bar(9), bar(7)).f).toBeCloseTo(orifice(bar(7)), 12)
  expect(evaluate(law, bar(9), bar(7.25)).f).toBeCloseTo(orifice(bar(7.25)) / 2, 12)
  expect(evaluate(law, bar(9), bar(8)).f).toBeCloseTo(orifice(bar(8)) / 100, 12)
})

test.each<[Law, string]>([
  [{ law: 'linear', g: -1 }, 'conductance'],
  [{ law: 'linear', g: Number.POSITIVE_INFINITY }, 'conductance'],
  [{ law: 'diode', saturation: 1e-9, thermalVoltage: 0.025, series: 0 }, 'series'],
  [{ law: 'orifice', c: 1e-8, b: 1 }, 'ratio'],
  [{ law: 'filament', cold: 1, knee: 1, exponent: 0.7 }, 'exponent'],
  [{ law: 'drag', dry: 1, viscous: 0, smooth: 0 }, 'smooth'],
  [{ law: 'square-root', k: Number.NaN, laminar: 10 }, 'k'],
])('numbers no part can have are named: %o', (law, word) => {
  expect(unfitLaw(law)).toContain(word)
})
