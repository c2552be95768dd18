import { fileURLToPath } from 'node:url'
import { expect, test } from 'vitest'
import { circuits } from './circuits.js'

const folder = fileURLToPath(new URL('../../../../reference/circuits', import.meta.url))

// Voltages from a circuit simulator (ngspice-39), see reference/circuits/README.md.
test('operating points and single faults agree with the circuit simulator', () => {
  const results = circuits(folder)
  expect(results.filter((result) => result.outcome === 'failed')).toEqual([])
  expect(results.filter((result) => result.outcome === 'passed').length).toBeGreaterThan(70)
})
