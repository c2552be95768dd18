import { describe, expect, test } from 'vitest'
import { laminarLoss } from '../physics/hydraulics.js'
import { DENSITY, laminarLine, viscosity } from './oil.js'

const kinematic = (celsius: number): number => (viscosity(celsius + 273.15) / DENSITY) * 1e6

describe('hydraulic oil', () => {
  test('of ISO VG 32 has 28.8 to 35.2 mm2/s at 40 degC', () => {
    // ISO 3448: the grade is the middle of plus and minus ten per cent at 40 degC (from memory, and as printed in trade tables).
    expect(kinematic(40)).toBeGreaterThan(28.8)
    expect(kinematic(40)).toBeLessThan(35.2)
  })

  test.each([
    // An oil of viscosity index 95 to 105, as data sheets of this grade show it (common practice, no source): mm2/s at degC.
    [0, 220, 420],
    [20, 70, 110],
    [100, 5, 6],
    [-20, 1200, 3500],
  ])('at %s degC has %s to %s mm2/s', (celsius, least, most) => {
    expect(kinematic(celsius)).toBeGreaterThan(least)
    expect(kinematic(celsius)).toBeLessThan(most)
  })

  test('loses in a line what Hagen and Poiseuille say', () => {
    const flow = 80e-6
    const loss = laminarLoss(flow, 0.01, 2.5, viscosity(253.15))
    expect(flow / laminarLine(0.01, 2.5, 253.15)).toBeCloseTo(loss, 3)
  })
})
