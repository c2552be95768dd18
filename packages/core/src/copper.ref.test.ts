import { describe, expect, it } from 'vitest'
import {
  allowedDrop,
  awgArea,
  awgDiameter,
  awgFromArea,
  convert,
  copperAlphaAt,
  copperRatio,
  flexibleResistance,
  marineArea,
  resistanceBand,
  resistanceMethodConstant,
  smallestGauge,
  temperatureFromResistance,
  wireResistance,
} from './index.js'

const degC = (t: number) => t + 273.15

/** Relative deviation, absolute where the reference is nought. */
function deviation(value: number, reference: number): number {
  return Math.abs(value - reference) / (Math.abs(reference) || 1)
}

describe('copper wire', () => {
  // Source: table of solid annealed copper wire, ohm per 100 ft at 20 degC (NBS Circular 31, as reprinted), 4 digits.
  it.each([
    [12, 0.1588],
    [18, 0.6385],
    [24, 2.567],
    [30, 10.32],
  ])('AWG %i has the printed resistance', (gauge, ohms) => {
    expect(deviation(wireResistance(awgArea(gauge), convert(100, '[ft_i]', 'm')), ohms)).toBeLessThanOrEqual(0.004)
  })

  it('has its gauge diameters', () => {
    // Source: ASTM B258, exact at both ends of the definition.
    expect(deviation(awgDiameter(36), 0.127e-3)).toBeLessThanOrEqual(1e-12)
    expect(deviation(awgDiameter(-3), 11.684e-3)).toBeLessThanOrEqual(1e-12)
    expect(deviation(awgFromArea(awgArea(18)), 18)).toBeLessThanOrEqual(1e-12)
  })

  it('as flexible conductor has the maxima of the standard at its sizes, and between them values between', () => {
    // Source: IEC 60228, class 5, plain strands: 1.5 and 2.5 mm2 13.3 and 7.98 mOhm/m.
    expect(deviation(flexibleResistance(1.5e-6, 1), 13.3e-3)).toBeLessThanOrEqual(1e-12)
    expect(deviation(flexibleResistance(2.5e-6, 1), 7.98e-3)).toBeLessThanOrEqual(1e-12)
    expect(flexibleResistance(2e-6, 1)).toBeGreaterThan(flexibleResistance(2.5e-6, 1))
    expect(flexibleResistance(2e-6, 1)).toBeLessThan(flexibleResistance(1.5e-6, 1))
    expect(deviation(flexibleResistance(0.1e-6, 1), wireResistance(0.1e-6, 1) * 1.131)).toBeLessThanOrEqual(1e-3)
    expect(flexibleResistance(400e-6, 1)).toBeGreaterThan(wireResistance(400e-6, 1))
  })

  it('is sized for a marine circuit', () => {
    // Source: worked example of a marine wire table, 10 A, 21 ft there and back, 12 V: AWG 16 at 10 %, AWG 12 at 3 %.
    const length = convert(21, '[ft_i]', 'm')
    expect(smallestGauge(marineArea(10, length, 12, 0.1))).toBe(16)
    expect(smallestGauge(marineArea(10, length, 12, 0.03))).toBe(12)
    expect(smallestGauge(1)).toBeUndefined()
  })

  it('may drop what the table allows, and other voltages are not guessed', () => {
    // Source: FAA AC 43.13-1B, table 11-6.
    expect([allowedDrop(28, 'continuous'), allowedDrop(14, 'intermittent'), allowedDrop(24, 'continuous')]).toEqual([
      1,
      1,
      undefined,
    ])
  })
})

describe('copper windings', () => {
  it('follow the resistance method', () => {
    // Source: worked example of a motor winding: 80 ohm at 20 degC, 100 ohm warm, 83.63 degC.
    expect(Math.abs(temperatureFromResistance(100, 80, degC(20)) - degC(83.63))).toBeLessThan(0.1)
    // Source: resistance-method ratio with k = 234.5.
    expect(deviation(copperRatio(degC(20), degC(120)), 1.3929273)).toBeLessThanOrEqual(1e-3)
    expect(deviation(copperRatio(degC(20), degC(100), 235) * 100, 131.37255)).toBeLessThanOrEqual(1e-7)
  })

  it('have the constant of their coefficient', () => {
    // Source: 0.00393/K at 20 degC is 1/234.45; at 0 degC and 25 degC 0.00426 and 0.00385 (computed from the law).
    expect(deviation(resistanceMethodConstant(0.00393, degC(20)), 234.5)).toBeLessThanOrEqual(3e-4)
    expect(deviation(copperAlphaAt(degC(0)), 0.004264)).toBeLessThanOrEqual(3e-4)
    expect(deviation(copperAlphaAt(degC(25)), 0.003854)).toBeLessThanOrEqual(3e-4)
  })

  it('have limits that widen with the temperatures they may have', () => {
    // Source: computed, 68 ohm +- 5 % from -20 to 110 degC with k = 234.5.
    const band = resistanceBand(68, 0.05, degC(-20), degC(110))
    expect(deviation(band.low, 54.446758)).toBeLessThanOrEqual(2e-3)
    expect(deviation(band.high, 96.649509)).toBeLessThanOrEqual(2e-3)
  })
})
