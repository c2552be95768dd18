import { describe, expect, test } from 'vitest'
import { faultModes, split, stretches } from './faults.js'
import { bench, faultNamed, system } from './testing/relay-lamp.js'

describe('failure modes of a description', () => {
  test('bridges run between neighbouring pins of one plug and neighbouring wires of one harness, each pair once', () => {
    const bridges = bench.faults.filter(({ other }) => other !== undefined).map(({ part, other }) => `${part.name}+${other}`)
    expect(bridges).toEqual(['X1.1+X1.2', 'X1.2+X1.3', '1+2', '2+3'])
  })

  test('what hands leave behind is listed only when asked for', () => {
    const usual = faultModes(system).map(({ id }) => id)
    expect(usual).not.toContain('D1.fitted_reversed')
    expect(bench.faults.map(({ id }) => id)).toContain('D1.fitted_reversed')
  })

  test('a blown fuse is no fault of its own: the network must make it', () => {
    expect(bench.faults.map(({ id }) => id)).not.toContain('F1.open_by_overload')
  })
})

describe('sizes in stretches', () => {
  const sizes = bench.faults.flatMap(({ id, severity }) => (severity ? [[id, severity] as const] : []))

  test.each(sizes)('those of %s lie in order around its nodes, do not overlap, and hold all of the prior', (_, severity) => {
    const parts = stretches(severity)
    expect(parts.reduce((sum, { share }) => sum + share, 0)).toBeCloseTo(1, 12)
    parts.slice(1).forEach((part, i) => {
      const below = parts[i]
      expect(part.middle - part.width / 2).toBeGreaterThanOrEqual(below.middle + below.width / 2 - 1e-9)
    })
  })

  test('on a log scale they cover every size from the first to the last without a gap', () => {
    const parts = stretches(faultNamed('X1.1.high_resistance_contact').severity)
    parts.slice(1).forEach((part, i) => {
      expect(part.middle - part.width / 2).toBeCloseTo(parts[i].middle + parts[i].width / 2, 9)
    })
  })

  test('a stretch cut in three is the same stretch', () => {
    const [whole] = stretches(faultNamed('X1.1.high_resistance_contact').severity)
    const parts = split(whole, 3)
    expect(parts[0].middle - parts[0].width / 2).toBeCloseTo(whole.middle - whole.width / 2, 12)
    expect(parts[2].middle + parts[2].width / 2).toBeCloseTo(whole.middle + whole.width / 2, 12)
    expect(parts.reduce((sum, { share }) => sum + share, 0)).toBeCloseTo(whole.share, 12)
  })
})
