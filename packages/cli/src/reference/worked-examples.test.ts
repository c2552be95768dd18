import { fileURLToPath } from 'node:url'
import { expect, test } from 'vitest'
import { workedExamples } from './worked-examples.js'

const EXAMPLES = fileURLToPath(new URL('../../../../reference/worked-examples', import.meta.url))
const results = workedExamples(EXAMPLES)

test('no worked example fails', () => {
  expect(results.filter(({ outcome }) => outcome === 'failed')).toEqual([])
})

test.each([
  'polybox',
  'three-lamps-one-supply',
  'testability-figures',
  'intermittent-part-posterior',
  'meter-accuracy-percent-and-counts',
  'test-sequence-6-states-5-tests',
  'test-sequence-10-states-12-tests',
  'repair-order-p-over-c',
  'repair-order-cost-clusters',
  'gamma-prior-from-two-quantiles',
  'mtbf-interval',
  'proportion-exact-interval',
  'mean-confidence-interval',
])('%s passes with every expected value computed', (id) => {
  expect(results.find((result) => result.id === id)?.outcome).toBe('passed')
})

test('a topic that cannot be computed yet is skipped with its reason', () => {
  const skipped = results.filter(({ outcome }) => outcome === 'skipped')
  expect(skipped.every(({ detail }) => detail !== undefined && detail !== '')).toBe(true)
})
