import { DEFAULT_METERS } from '@halfsplit/core'
import { describe, expect, it } from 'vitest'
import { assessCoil } from './index.js'

const degC = (t: number) => t + 273.15

/** Limits and readings: common practice, no source. Meter: 1 % + 3 counts of 0.1 ohm. */
function coil(reading: number, celsius: number, halfWidth: number) {
  const temperature = { value: degC(celsius), halfWidth }
  return assessCoil({ reading, meter: DEFAULT_METERS.ohms, temperature, limits: { low: 58, high: 78 } })
}

describe('a coil accepted from 58 to 78 ohm at 20 degC', () => {
  it('read at 75.3 ohm is good at 60 +- 10 degC', () => {
    expect(coil(75.3, 60, 10)).toMatchObject({ verdict: 'good' })
    expect(coil(75.3, 60, 10).settleTemperature).toBeUndefined()
  })

  it('read at 75.3 ohm cannot be told at 95 +- 3 degC, and the temperature that would settle it is named', () => {
    const result = coil(75.3, 95, 3)
    expect(result.verdict).toBe('cannot tell')
    const settled = result.settleTemperature
    const edge = settled?.goodBetween?.high ?? 0
    expect(edge).toBeGreaterThan(degC(80))
    expect(edge).toBeLessThan(degC(95))
    expect(coil(75.3, edge - 273.15, 3).verdict).toBe('good')
    expect(coil(75.3, edge - 273.15 + 0.2, 3).verdict).toBe('cannot tell')
    expect(coil(75.3, (settled?.badAbove ?? 0) - 273.15, 3).verdict).toBe('bad')
    expect(settled?.words).toMatch(/good if the coil is at .* degC to .* degC/)
  })

  it('read at 80 ohm at 95 degC is good, though outside the bare limits', () => {
    expect(coil(80, 95, 3).verdict).toBe('good')
  })

  it('read at 58 ohm at 95 degC is bad, though on the bare limit', () => {
    expect(coil(58, 95, 3).verdict).toBe('bad')
  })

  it('tells which half-width of the temperature is enough, where one is', () => {
    const result = coil(77.5, 95, 12)
    const enough = result.settleTemperature?.halfWidth ?? 0
    expect(result.verdict).toBe('cannot tell')
    expect(coil(77.5, 95, enough).verdict).toBe('good')
    expect(coil(77.5, 95, enough + 0.2).verdict).toBe('cannot tell')
  })

  it('says that no temperature settles it where the meter is too coarse', () => {
    const temperature = { value: degC(95), halfWidth: 3 }
    const result = assessCoil({ reading: 75.3, meterLimit: 40, temperature, limits: { low: 58, high: 78 } })
    expect(result.settleTemperature?.words).toContain('too coarse')
  })

  it('needs the limit of the meter from somewhere', () => {
    expect(() => assessCoil({ reading: 75, temperature: { value: 300, u: 1 }, limits: { low: 58 } })).toThrow(
      'limit of the meter',
    )
  })
})
