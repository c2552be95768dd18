import fc from 'fast-check'
import { expect, test } from 'vitest'
import { believing } from '../testing/believing.js'
import { bench } from '../testing/relay-lamp.js'
import { setupHazards } from './setup-hazards.js'

const faults = bench.faults.filter(({ severity, mode }) => !severity && !mode.byHand).slice(0, 8)
const weights = fc.array(fc.double({ min: 0.01, max: 1, noNaN: true }), { minLength: faults.length, maxLength: faults.length })
const states = fc.constantFrom('off', 'key', 'on', 'warm')

/** Hazards of swapping the lamp in a state, coming from another, with the faults believed in these shares and the sound machine in the rest. */
function chances(share: readonly number[], state: string, from: string) {
  const whole = share.reduce((sum, one) => sum + one, 0) * 1.25
  const standing = believing(...faults.map((fault, i) => [{ fault, sd: 0 }, share[i] / whole] as const))
  return setupHazards(bench, standing, { setup: { state, intervention: { do: 'swap', part: 'E1' } } }, { state: from })
}

test('what begins is there, and nothing is likelier than certain', () => {
  fc.assert(
    fc.property(weights, states, states, (share, state, from) => {
      const { computed, followed } = chances(share, state, from)
      expect(followed).toBeLessThanOrEqual(1 + 1e-12)
      for (const one of computed) {
        expect(one.begins).toBeLessThanOrEqual(one.present + 1e-12)
        expect(one.present).toBeLessThanOrEqual(1 + 1e-12)
      }
    }),
    { numRuns: 60 },
  )
})
