import { ASSUMPTIONS, type Dimension, parseQuantity } from '@halfsplit/core'
import { describe, expect, it } from 'vitest'
import { impose, parseSystem, recipe, type System } from './index.js'
import { ratingLaw } from './latents.js'

function law(text: string, dimension: Dimension, spread?: 'factor') {
  const parsed = parseQuantity(text, dimension)
  if (!parsed.ok) throw new Error(parsed.message)
  return ratingLaw(parsed.value, { dimension, about: '', spread })
}

describe('the law of a rating', () => {
  it("a maker's upper limit lies three sd above the mean of healthy parts", () => {
    const pullIn = law('<= 18 V', 'voltage')
    expect(pullIn?.(0)).toBeCloseTo(18 * ASSUMPTIONS.makerLimitShare, 9)
    expect(pullIn?.(ASSUMPTIONS.makerLimitSd)).toBeCloseTo(18, 9)
  })

  it("a maker's lower limit lies three sd below", () => {
    const dropOut = law('>= 2.4 V', 'voltage')
    expect(dropOut?.(0)).toBeGreaterThan(2.4)
    expect(dropOut?.(-ASSUMPTIONS.makerLimitSd)).toBeCloseTo(2.4, 9)
  })

  it('the limit of a pressure is shared out above the atmosphere', () => {
    expect(law('<= 5 bar', 'absolutePressure')?.(0)).toBeCloseTo(101325 + 5e5 * ASSUMPTIONS.makerLimitShare, 3)
  })

  it('a tolerance is two sd, a rectangular one never leaves its limits', () => {
    expect(law('100 Ohm +- 8 %', 'resistance')?.(2)).toBeCloseTo(108, 9)
    expect(law('100 Ohm +- 8 % (uniform)', 'resistance')?.(9)).toBeCloseTo(108, 6)
    expect(law('100 Ohm +- 8 % (uniform)', 'resistance')?.(0)).toBeCloseTo(100, 6)
  })

  it('a joint is a factor of two either way at one sd, and an exact value has no latent', () => {
    expect(law('5 mOhm', 'resistance', 'factor')?.(1)).toBeCloseTo(0.01, 12)
    expect(law('5 mOhm', 'resistance', 'factor')?.(-1)).toBeCloseTo(0.0025, 12)
    expect(law('5 mOhm', 'resistance')).toBeUndefined()
  })

  it('a resistance is never drawn below nought', () => {
    expect(law('100 Ohm +- 90 %', 'resistance')?.(-6)).toBeGreaterThan(0)
  })
})

it('latents are numbered in order; an imposed temperature with a spread is one latent, as wide as each state says', () => {
  const { system } = parseSystem(
    `halfsplit: 1
parts:
  BAT: { kind: battery, voltage: 24 V }
  K1: { kind: relay, pull_in: <= 16 V }
joins:
  - [BAT.plus, K1.coil_a]
  - [K1.coil_b, frame]
states:
  warm: { set: { K1: 60 degC +- 2 K } }
  hot: { set: { K1: 95 degC +- 6 K } }
`,
    'relay.yaml',
  )
  const latents = system?.latents ?? []
  expect(latents.map((one) => one.index)).toEqual(latents.map((_, i) => i))
  expect(latents.some((one) => one.id === 'BAT.voltage')).toBe(false)
  expect(latents.find((one) => one.id === 'K1.pull_in')?.at(3)).toBeCloseTo(16, 9)
  const last = latents[latents.length - 1]
  expect(last).toMatchObject({ part: 'K1', rating: '=temperature' })
  expect(last.at(1)).toBe(1)
  const inForce = (state: string) => {
    const settings = new Map<string, string | number>()
    for (const step of recipe(system as System, state)) impose(settings, step)
    return settings.get('K1.temperature spread')
  }
  expect(inForce('warm')).toBeCloseTo(1, 9)
  expect(inForce('hot')).toBeCloseTo(3, 9)
})
