import { ASSUMPTIONS } from '@halfsplit/core'
import { parseSystem } from '@halfsplit/system'
import { expect, test } from 'vitest'
import { LatentSpace } from './latent-space.js'

const { system } = parseSystem(
  `halfsplit: 1
parts:
  BAT: { kind: battery, resistance: 6 mOhm +- 30 % (uniform) }
  S1: { kind: switch }
  E1: { kind: load, power: 60 W +- 10 % }
joins:
  - [BAT.plus, S1.a]
  - [S1.b, E1.feed]
  - [E1.ground, BAT.minus]
`,
  'moments.yaml',
)
if (!system) throw new Error('no system')
const space = new LatentSpace(system)
const momentsOf = (id: string) => space.moments(system.latents.findIndex((latent) => latent.id === id))

test('a tolerance that is normal is a straight line', () => {
  const { gain, offset } = momentsOf('E1.power')
  expect(gain).toBeCloseTo(1, 6)
  expect(offset).toBeCloseTo(0, 6)
})

test('a joint has the mean and sd of a lognormal', () => {
  const s = Math.log(ASSUMPTIONS.jointFactor)
  // Mean exp(s^2/2), variance (exp(s^2) - 1) exp(s^2), in units of the median; slope at the median s.
  const sd = Math.sqrt(Math.expm1(s * s) * Math.exp(s * s))
  const { gain, offset } = momentsOf('S1.contact')
  expect(gain).toBeCloseTo(sd / s, 5)
  expect(offset).toBeCloseTo((Math.exp((s * s) / 2) - 1) / sd, 5)
})

test('a rectangular tolerance has its own sd, not the steeper slope at its middle', () => {
  // Value sqrt(3) sd (2 Phi(z) - 1), slope at 0 sqrt(3) sd sqrt(2/pi).
  const { gain, offset } = momentsOf('BAT.resistance')
  expect(gain).toBeCloseTo(Math.sqrt(Math.PI / 6), 4)
  expect(offset).toBeCloseTo(0, 6)
})

test('latents without a law of the description are straight', () => {
  expect(space.moments(space.named('gain multimeter 40'))).toEqual({ gain: 1, offset: 0 })
})
