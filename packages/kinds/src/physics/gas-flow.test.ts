import { expect, it } from 'vitest'
import {
  circleArea,
  conductanceFromCv,
  conductanceFromNominal,
  conductanceOf,
  criticalRatio,
  diameterOf,
  expansibility,
  freeAir,
  holeFlow,
  measuredFlow,
  nominalFlow,
  passageFlow,
  valveFlow,
} from './gas-flow.js'

const hole = { area: circleArea(1e-3), discharge: 0.65 }

it('below the critical ratio the outlet pressure does not count, above it does', () => {
  const critical = criticalRatio() * 8e5
  expect(holeFlow(hole, 8e5, 1e5, 293.15)).toBe(holeFlow(hole, 8e5, critical * 0.99, 293.15))
  expect(holeFlow(hole, 8e5, critical * 1.2, 293.15)).toBeLessThan(holeFlow(hole, 8e5, 1e5, 293.15))
  expect(holeFlow(hole, 8e5, 8e5, 293.15)).toBe(0)
})

it('choked and subsonic flow meet', () => {
  const at = (share: number) => holeFlow(hole, 8e5, 8e5 * criticalRatio() * share, 293.15)
  expect(at(1 + 1e-9) / at(1 - 1e-9)).toBeCloseTo(1, 8)
})

it('a hole and its sonic conductance pass the same choked flow, and the diameter is found again', () => {
  const conductance = conductanceOf(hole)
  expect(passageFlow({ conductance, critical: 0.5 }, 7e5, 1e5) / holeFlow(hole, 7e5, 1e5, 293.15)).toBeCloseTo(1, 12)
  expect(diameterOf(conductance, 0.65)).toBeCloseTo(1e-3, 12)
})

it('flow through a valve turns round with the pressures, and falls with the root of the temperature', () => {
  const valve = { conductance: 2e-8, critical: 0.3 }
  expect(passageFlow(valve, 7e5, 6e5)).toBe(-passageFlow(valve, 6e5, 7e5))
  expect(passageFlow(valve, 7e5, 1e5, 4 * 293.15) * 2).toBeCloseTo(passageFlow(valve, 7e5, 1e5), 12)
})

it('the nominal flow gives the conductance back', () => {
  const valve = { conductance: 1.5e-8, critical: 0.3 }
  expect(conductanceFromNominal(nominalFlow(valve), 0.3)).toBeCloseTo(1.5e-8, 18)
})

// Makers' rule of thumb, from memory: a valve with Cv 1 has a sonic conductance of 3.4 to 4.1 l/(s bar).
it('a valve with Cv 1 has a conductance of about 3.4 l/(s bar), and passes the same choked', () => {
  const conductance = conductanceFromCv(1)
  expect(conductance * 1e8).toBeGreaterThan(3.2)
  expect(conductance * 1e8).toBeLessThan(4.1)
  expect(freeAir(valveFlow(1, 8e5, 1e5, 293.15)) / (conductance * 8e5)).toBeCloseTo(1, 12)
})

// fluids documentation, ISO 5167 examples: D 73.9 mm, d 22.2 mm, 100 to 99 kPa, k 1.4: 0.99747 and 0.0112039 kg/s.
it('a measuring orifice: expansibility and flow', () => {
  const meter = { pipe: 0.0739, orifice: 0.0222 }
  expect(expansibility(meter, 1e5, 99e3)).toBeCloseTo(0.9974739, 6)
  expect(measuredFlow(meter, 1e3, 1.1646, 0.5988, 0.9975)).toBeCloseTo(0.01120390943807026, 10)
})

it('impossible pressures and temperatures are refused', () => {
  expect(() => holeFlow(hole, 1e5, 2e5, 293.15)).toThrow(/downstream/)
  expect(() => holeFlow(hole, -1, 0, 293.15)).toThrow(/upstream/)
  expect(() => holeFlow(hole, 1e5, 0, 0)).toThrow(/temperature upstream/)
  expect(() => passageFlow({ conductance: 1e-8, critical: 1 }, 2e5, 1e5)).toThrow(/critical pressure ratio/)
  expect(() => valveFlow(1, 1e5, 2e5, 293.15)).toThrow(/downstream/)
  expect(() => measuredFlow({ pipe: 0.02, orifice: 0.03 }, 1e3, 1, 0.6)).toThrow(/ratio of the diameters/)
})
