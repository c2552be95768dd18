import { fileURLToPath } from 'node:url'
import { expect, test } from 'vitest'
import { simulation } from './simulation.js'

const folder = fileURLToPath(new URL('../../../../reference/oracle-cases', import.meta.url))

// Event-located integration by an independent program, see section 7 in reference/oracle-cases/README.md.
test('events, samples and highest temperature of the simulation cases, healthy and faulted', () => {
  const results = simulation(folder)
  expect(results.filter((result) => result.outcome !== 'passed')).toEqual([])
  expect(results.length).toBe(33)
})
