import { expect, test } from 'vitest'
import { testability } from './testability.js'

const fault = (unit: string, rate: number, signature: string) => ({ unit, rate, signature, isDetected: signature !== '0' })

test('two faults of one unit with one signature are a group of one', () => {
  const { isolated, groups } = testability([fault('A', 1, 'x'), fault('A', 2, 'x'), fault('B', 1, 'y')])
  expect(isolated[0]).toEqual({ byRate: 1, byCount: 1 })
  expect(groups.get('x')).toEqual(['A'])
})

test('what no test sees counts against detection, not against isolation', () => {
  const { detected, isolated } = testability([fault('A', 3, 'x'), fault('B', 1, '0')])
  expect(detected).toEqual({ byRate: 0.75, byCount: 0.5 })
  expect(isolated[0]).toEqual({ byRate: 1, byCount: 1 })
})

test('without any fault detected nothing is isolated', () => {
  expect(testability([fault('A', 1, '0')]).isolated).toEqual(Array(3).fill({ byRate: 0, byCount: 0 }))
})
