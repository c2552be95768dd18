import { expect, it } from 'vitest'
import { AIR_BRAKE_RULES, buildUpRule, keepsRule, leakRule, reserveRule, reservoirProof, warningRule } from './air-brake.js'

const PSI = 6894.757293168

// 49 CFR 571.121 S5.1.1: 25 s times actual over required capacity.
it('build-up from 85 to 100 psi: 25 s, and 50 s with twice the tanks', () => {
  expect(buildUpRule().clause).toBe('49 CFR 571.121 S5.1.1')
  expect(keepsRule(buildUpRule(), 25)).toBe(true)
  expect(keepsRule(buildUpRule(), 26)).toBe(false)
  expect(keepsRule(buildUpRule(2), 50)).toBe(true)
  expect(() => buildUpRule(0)).toThrow(/reservoir volumes/)
})

// 49 CFR 571.121 S5.1.5.
it('a warning that comes on at 58 psi does not keep the rule, one at 62 psi does', () => {
  expect(keepsRule(AIR_BRAKE_RULES.warning, 58 * PSI)).toBe(false)
  expect(keepsRule(AIR_BRAKE_RULES.warning, 62 * PSI)).toBe(true)
})

// US commercial driver licence manual, air brakes: psi in one minute, released and applied.
it.each([
  [1, 2, 3],
  [2, 3, 4],
  [3, 5, 6],
  [5, 5, 6],
])('%s vehicles may lose %s psi released and %s psi applied', (vehicles, released, applied) => {
  expect((leakRule(vehicles, 'released').most ?? 0) / PSI).toBeCloseTo(released, 9)
  expect((leakRule(vehicles, 'applied').most ?? 0) / PSI).toBeCloseTo(applied, 9)
  expect((leakRule(vehicles, 'applied', 120).most ?? 0) / PSI).toBeCloseTo(2 * applied, 9)
})

// S5.1.2.2 (from memory), 393.51(c) (from memory), 393.50(a).
it('proof pressure, warning in use and reserve follow from the vehicle', () => {
  expect((reservoirProof(90 * PSI).least ?? 0) / PSI).toBeCloseTo(500, 9)
  expect((reservoirProof(120 * PSI).least ?? 0) / PSI).toBeCloseTo(600, 9)
  expect((warningRule(100 * PSI).least ?? 0) / PSI).toBeCloseTo(50, 9)
  expect((warningRule(125 * PSI).least ?? 0) / PSI).toBeCloseTo(55, 9)
  expect((reserveRule(120 * PSI).least ?? 0) / PSI).toBeCloseTo(84, 9)
})

it('every rule has its clause and a limit', () => {
  for (const rule of Object.values(AIR_BRAKE_RULES)) {
    expect(rule.clause).toMatch(/CFR|manual|handbook/)
    expect('least' in rule || 'most' in rule).toBe(true)
  }
})
