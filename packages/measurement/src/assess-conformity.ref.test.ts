import { readFileSync } from 'node:fs'
import { describe, expect, it } from 'vitest'
import {
  assessCoil,
  assessConformity,
  combine,
  conformanceProbability,
  guardedLimits,
  type Limits,
  meanOf,
  rectangular,
} from './index.js'

interface Case {
  id: string
  input: {
    readings: number[]
    meter: { accuracy_pct: number; counts: number; resolution: number }
    lead_resistance: { value: number; standard_uncertainty: number } | null
    temperature_correction: {
      reference_degC: number
      temp_degC: number
      temp_uncertainty: { kind: 'standard' | 'half_width'; value: number }
    } | null
    spec: { lower: number | null; upper: number | null }
    coverage_factor: number
    guard_factor: number
  }
  expected: {
    measured_value: number
    standard_uncertainty: number
    guard_band: number
    acceptance_limits_guarded: { lower: number | null; upper: number | null }
    conformance_probability: number
    decision_three_way: 'accept' | 'reject' | 'undecided'
  }
}

// Source: made for this project with an independent program, to the definitions of JCGM 106:2012, clauses 7 and 8.
const file = new URL('../../../reference/oracle-cases/conformity.json', import.meta.url)
const { cases } = JSON.parse(readFileSync(file, 'utf8')) as { cases: Case[] }

const VERDICTS = { accept: 'good', reject: 'bad', undecided: 'cannot tell' }

const limitsOf = (spec: { lower: number | null; upper: number | null }): Limits => ({
  ...(spec.lower === null ? {} : { low: spec.lower }),
  ...(spec.upper === null ? {} : { high: spec.upper }),
})

function assess({ input }: Case) {
  const { value, u } = meanOf(input.readings)
  const limit = (input.meter.accuracy_pct / 100) * Math.abs(value) + input.meter.counts * input.meter.resolution
  const limits = limitsOf(input.spec)
  const rule = { coverage: input.coverage_factor, guard: input.guard_factor }
  const correction = input.temperature_correction
  const lead = { value: input.lead_resistance?.value ?? 0, u: input.lead_resistance?.standard_uncertainty ?? 0 }
  if (!correction) return assessConformity({ value: value - lead.value, u: combine(rectangular(limit), u, lead.u) }, limits, rule)
  const known = correction.temp_uncertainty
  return assessCoil({
    reading: value,
    meterLimit: limit,
    repeatability: u,
    leadResistance: lead,
    temperature: {
      value: correction.temp_degC + 273.15,
      ...(known.kind === 'standard' ? { u: known.value } : { halfWidth: known.value }),
    },
    referenceTemperature: correction.reference_degC + 273.15,
    limits,
    rule,
  })
}

/** Relative 1e-9: the file is rounded to 13 digits, and the small difference of two ratios costs some. */
function close(a: number | undefined, b: number | null) {
  expect(Math.abs((a ?? 0) - (b ?? 0))).toBeLessThanOrEqual(1e-9 * Math.max(1, Math.abs(b ?? 0)))
}

describe('conformity of a measured value', () => {
  it.each(cases.map((c) => [c.id, c] as const))('%s', (_, c) => {
    const found = assess(c)
    close(found.measured.value, c.expected.measured_value)
    close(found.measured.u, c.expected.standard_uncertainty)
    close(found.guardBand, c.expected.guard_band)
    close(found.acceptance.low, c.expected.acceptance_limits_guarded.lower)
    close(found.acceptance.high, c.expected.acceptance_limits_guarded.upper)
    close(found.conformance, c.expected.conformance_probability)
    expect(found.verdict).toBe(VERDICTS[c.expected.decision_three_way])
  })

  it('of an exact value is certain', () => {
    expect(conformanceProbability({ value: 5, u: 0 }, { low: 5, high: 6 })).toBe(1)
    expect(assessConformity({ value: 4.9, u: 0 }, { low: 5 })).toMatchObject({ verdict: 'bad', conformance: 0 })
  })

  it('can be out of reach: an acceptance interval may be empty', () => {
    expect(guardedLimits({ low: 1, high: 2 }, 0.6)).toEqual({ low: 1.6, high: 1.4 })
    expect(assessConformity({ value: 1.5, u: 0.3 }, { low: 1, high: 2 }).verdict).toBe('cannot tell')
  })

  it('is refused without limits, with reversed limits and without a value', () => {
    expect(() => assessConformity({ value: 1, u: 0 }, {})).toThrow('no limit')
    expect(() => assessConformity({ value: 1, u: 0 }, { low: 2, high: 1 })).toThrow('above the upper')
    expect(() => assessConformity({ value: Number.NaN, u: 0 }, { low: 2 })).toThrow('not a number')
  })
})
