import { expect, it } from 'vitest'
import {
  cylinderForce,
  cylinderPressure,
  cylinderSpeed,
  frictionLoss,
  gapLeak,
  hydraulicPower,
  laminarFriction,
  laminarLoss,
  lineSpeed,
  liquidOrificeFlow,
  liquidValveFlow,
  pumpFlow,
  pumpTorque,
  reynolds,
  squeezedVolume,
  trappedRise,
} from './hydraulics.js'

const cylinder = { bore: 0.05, rod: 0.028 }

it('a cylinder pulls less and faster than it pushes, at the same power', () => {
  const power = (stroke: 'push' | 'pull') => cylinderForce(cylinder, stroke, 1e7) * cylinderSpeed(cylinder, stroke, 3e-4)
  expect(cylinderForce(cylinder, 'pull', 1e7)).toBeLessThan(cylinderForce(cylinder, 'push', 1e7))
  expect(cylinderSpeed(cylinder, 'pull', 3e-4)).toBeGreaterThan(cylinderSpeed(cylinder, 'push', 3e-4))
  expect(power('pull')).toBeCloseTo(hydraulicPower(1e7, 3e-4), 8)
  expect(cylinderPressure(cylinder, 'push', cylinderForce(cylinder, 'push', 1e7))).toBeCloseTo(1e7, 6)
})

it('in laminar flow both forms of the loss agree', () => {
  const [q, d, length, mu, rho] = [3e-4, 0.01, 3, 0.04, 870]
  const v = lineSpeed(q, d)
  const friction = laminarFriction(reynolds(v, d, mu / rho))
  expect(frictionLoss(friction, length, d, rho, v) / laminarLoss(q, d, length, mu)).toBeCloseTo(1, 12)
})

it('a leak grows with the cube of the gap, an orifice with the root of the drop', () => {
  expect(gapLeak(0.025, 2e-5, 0.015, 2e7, 0.02) / gapLeak(0.025, 1e-5, 0.015, 2e7, 0.02)).toBeCloseTo(8, 12)
  expect(liquidOrificeFlow(1e-3, 4e6, 870) / liquidOrificeFlow(1e-3, 1e6, 870)).toBeCloseTo(2, 12)
})

it('what a pump takes it gives', () => {
  const [displacement, speed, pressure] = [16e-6, 25, 1.5e7]
  const shaft = pumpTorque(displacement, pressure) * 2 * Math.PI * speed
  expect(shaft).toBeCloseTo(hydraulicPower(pressure, pumpFlow(displacement, speed)), 8)
})

it('oil squeezed by the pressure of its heating has its volume back', () => {
  const rise = trappedRise(1.5e9, 7e-4, 10)
  expect(squeezedVolume(1, rise, 1.5e9)).toBeCloseTo(7e-3, 12)
})

// Definition of Cv: one US gallon of water a minute at one psi.
it('a valve with Cv 1 passes a gallon of water a minute at 1 psi', () => {
  expect(liquidValveFlow(1, 6894.757293168, 1000)).toBeCloseTo(3.785411784e-3 / 60, 12)
})

it('what cannot be is refused', () => {
  expect(() => cylinderForce({ bore: 0.05, rod: 0.06 }, 'pull', 1e5)).toThrow(/diameter of the rod/)
  expect(() => laminarFriction(5000)).toThrow(/Reynolds number/)
  expect(() => liquidOrificeFlow(1e-3, -1, 870)).toThrow(/drop of pressure/)
  expect(() => pumpFlow(1e-5, 25, 1.2)).toThrow(/efficiency/)
  expect(() => trappedRise(0, 7e-4, 10)).toThrow(/bulk modulus/)
})
