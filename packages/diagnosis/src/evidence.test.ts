import { ASSUMPTIONS } from '@halfsplit/core'
import { describe, expect, test } from 'vitest'
import { groupsOf, type LogItem } from './evidence.js'
import { reading, seen } from './testing/relay-lamp.js'

const FEED = 'on: volts E1.feed BAT.minus'
const GROUND = 'on: volts E1.ground BAT.minus'
const valuesOf = (log: LogItem[]) =>
  groupsOf(log).groups.flatMap(({ taken }) =>
    taken.map(({ outcome }) => (outcome.kind === 'number' ? outcome.value : Number.NaN)),
  )

describe('readings of a log in groups', () => {
  test('a point read again is one reading, their mean, and less likely a misread', () => {
    const { groups } = groupsOf([reading(FEED, 11.8), reading(FEED, 11.82)])
    expect(groups.length).toBe(1)
    const [record] = groups[0].records
    expect(groups[0].records.length).toBe(1)
    expect(record.outcome).toMatchObject({ kind: 'number', value: expect.closeTo(11.81, 9) })
    expect(record.error).toBeCloseTo(ASSUMPTIONS.misread ** 2, 12)
  })

  test('what disagrees stays apart', () => {
    expect(valuesOf([reading(FEED, 11.8), reading(FEED, 3.2)])).toEqual([expect.closeTo(3.2, 9), expect.closeTo(11.8, 9)])
  })

  test('a look again is the same look', () => {
    const { groups } = groupsOf([seen('on: look E1.light', 'dark'), seen('on: look E1.light', 'dark')])
    expect(groups[0].records.length).toBe(1)
  })

  test('the order of three readings of one point is forgotten', () => {
    const items = [11.8, 3.2, 11.82].map((value) => reading(FEED, value))
    const orders = [
      [0, 1, 2],
      [2, 1, 0],
      [1, 0, 2],
      [1, 2, 0],
    ].map((order) => valuesOf(order.map((i) => items[i])))
    for (const one of orders) expect(one).toEqual(orders[0])
  })

  test('one setup is one group; an action between two readings parts them, and is counted', () => {
    const action: LogItem = { kind: 'disturbed', parts: ['X1'] }
    const together = groupsOf([reading(FEED, 11.8), reading(GROUND, 0.1)])
    expect(together.groups.map(({ taken }) => taken.length)).toEqual([2])
    const { groups, actions } = groupsOf([reading(FEED, 11.8), action, reading(FEED, 11.8)])
    expect(actions).toEqual([action])
    expect(groups.map(({ segment, taken }) => [segment, taken.length])).toEqual([
      [0, 1],
      [1, 1],
    ])
  })
})
