import { describe, expect, test } from 'vitest'
import { bestTest, decide } from './index.js'

describe('repair or test on', () => {
  const groups = [
    { id: 'clean GL', probability: 0.3 },
    { id: 'replace lamp', probability: 0.6 },
  ]

  test('repairs when one repair covers the belief', () => {
    expect(decide(groups, 0.5)).toEqual({ kind: 'repair', id: 'replace lamp', probability: 0.6 })
  })

  test('tests on below the threshold, naming the likeliest repair', () => {
    expect(decide(groups, 0.9)).toEqual({ kind: 'test-on', id: 'replace lamp', probability: 0.6 })
  })

  test('with no repair at all there is only testing', () => {
    expect(decide([], 0.9)).toEqual({ kind: 'test-on', id: null, probability: 0 })
  })
})

describe('the test to do next', () => {
  test('is the one with the most information per cost', () => {
    const tests = [
      { id: 'ohms', information: 0.9, cost: 9 },
      { id: 'volts', information: 0.4, cost: 1 },
    ]
    expect(bestTest(tests)?.id).toBe('volts')
  })

  test('is none where no test tells anything', () => {
    expect(bestTest([{ id: 'volts', information: 0, cost: 1 }])).toBeUndefined()
    expect(bestTest([])).toBeUndefined()
  })
})
