import { expect, it } from 'vitest'
import { clampedTurnOff, coilDecayTime, coilTimeConstant } from './coil-decay.js'

const coil = { resistance: 68, inductance: 0.5 }

it('a coil shorted on itself has a tenth left after 2.3 time constants', () => {
  expect(coilDecayTime(coil, 0.1) / coilTimeConstant(coil)).toBeCloseTo(Math.LN10, 12)
  expect(coilDecayTime(coil, 1)).toBeCloseTo(0, 12)
})

it('what is stored goes into the clamp and the coil', () => {
  const { current, time, energy } = clampedTurnOff(coil, 24, 36)
  const steps = 20000
  let heat = 0
  for (let n = 0; n < steps; n += 1) {
    const t = ((n + 0.5) * time) / steps
    const now = (current + 36 / 68) * Math.exp(-t / coilTimeConstant(coil)) - 36 / 68
    heat += (now ** 2 * 68 * time) / steps
  }
  expect((heat + energy) / (0.5 * 0.5 * current ** 2)).toBeCloseTo(1, 6)
})

it('a higher clamp lets go sooner', () => {
  expect(clampedTurnOff(coil, 24, 60).time).toBeLessThan(clampedTurnOff(coil, 24, 0.8).time)
  expect(() => clampedTurnOff(coil, 24, 0)).toThrow(/clamp voltage/)
  expect(() => coilTimeConstant({ resistance: 0, inductance: 1 })).toThrow(/resistance of the coil/)
})
