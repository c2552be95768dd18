import { expect, test } from 'vitest'
import { evaluate, REFERENCE_DENSITY } from './laws.js'

// Rows of the pneumatics handbook check: equation as public simulation libraries print ISO 6358, number computed from it
// (status 'computed'; the standard itself was not consulted). C = 2 L/(s bar), b = 0.3, 293.15 K, absolute pressures.
test.each([
  { row: 'iso6358.choked', p2: 1, m: 0.01659, litrePerMinute: 840 },
  { row: 'iso6358.sub1', p2: 6, m: 0.010043652, litrePerMinute: 508.53932 },
  { row: 'iso6358.sub2', p2: 6.65, m: 0.0061574406, litrePerMinute: 311.76915 },
])('$row: mass flow from 7 bar to $p2 bar', ({ p2, m, litrePerMinute }) => {
  const flow = evaluate({ law: 'orifice', c: 2e-3 / 1e5, b: 0.3 }, 7e5, p2 * 1e5).f
  expect(Math.abs(flow / m - 1)).toBeLessThan(0.002)
  expect(Math.abs(((flow / REFERENCE_DENSITY) * 6e4) / litrePerMinute - 1)).toBeLessThan(0.002)
})

// Row choke.80 (status 'seen', choked-flow tutorial): 80 psig inlet, 14.7 psi atmosphere, critical ratio 0.528: choked below
// 35.3 psig. Holds the law to absolute pressure; with gauge pressure by mistake it would choke at 42 psig.
test('choke.80: an 80 psig supply is choked for every outlet below 35.3 psig', () => {
  const psi = 6894.757
  const flow = (gauge: number) => evaluate({ law: 'orifice', c: 1e-8, b: 0.528 }, 94.7 * psi, (gauge + 14.7) * psi).f
  expect(flow(35.2)).toBe(flow(0))
  expect(flow(36)).toBeLessThan(flow(0))
})
