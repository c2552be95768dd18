import { describe, expect, test } from 'vitest'
import { minutesFor } from '../effort.js'
import { bench, complaint, reading, seen, system, testNamed } from '../testing/relay-lamp.js'
import { decisionTable, type DecisionTable } from './decision-table.js'
import { nextStep, stopPoints } from './next-step.js'

const from = { setup: { state: 'off' }, places: [] }
const start = bench.standing([], complaint)
const table = decisionTable(bench, start, { from })
const shown = seen('on: look E1.light', 'dark')

const rowsOf = ({ task }: DecisionTable) =>
  task.tests.flatMap(({ outcomes, chances }) => task.suspects.map((_, s) => chances.subarray(s * outcomes, (s + 1) * outcomes)))

describe('a standing as a table', () => {
  test('every row of every test sums to 1 and holds no negative chance', () => {
    for (const row of rowsOf(table)) {
      expect(row.reduce((sum, one) => sum + one, 0)).toBeCloseTo(1, 9)
      expect(row.every((one) => one >= 0)).toBe(true)
    }
  })

  test('suspects and what is left out hold the whole belief', () => {
    const held = table.suspects.reduce((sum, { probability }) => sum + probability, 0)
    expect(held + table.leftOut + table.notDescribed).toBeCloseTo(1, 9)
    expect(table.leftOut).toBeLessThan(0.2)
  })

  test('stretches of a reading lie end to end over the whole line', () => {
    const readings = table.tests.map(({ outcomes }) => outcomes.flatMap((one) => (one.kind === 'reading' ? [one] : [])))
    for (const stretches of readings.filter((list) => list.length > 0)) {
      expect(stretches[0].low).toBe(Number.NEGATIVE_INFINITY)
      expect(stretches.at(-1)?.high).toBe(Number.POSITIVE_INFINITY)
      expect(stretches.slice(1).map(({ low }) => low)).toEqual(stretches.slice(0, -1).map(({ high }) => high))
    }
  })

  test('an open feed and a sound one fall on two sides of a cut', () => {
    const at = table.tests.findIndex(({ test: { id } }) => id === 'on: volts E1.feed BAT.minus')
    const { outcomes, chances } = table.task.tests[at]
    const likeliest = (fault: string) => {
      const s = table.suspects.findIndex(({ faults }) => faults.join() === fault)
      const row = [...chances.subarray(s * outcomes, (s + 1) * outcomes)]
      return row.indexOf(Math.max(...row))
    }
    expect(likeliest('F1.open')).not.toBe(likeliest('G1.open'))
  })

  test('minutes are those of the tests, set-up and way apart', () => {
    const { task, tests } = table
    for (const [t, { test: one }] of tests.entries()) {
      const { state, place, time } = task.tests[t]
      const minutes = task.changes[task.start.state][state] + task.ways[task.start.place][place] + time
      expect(minutes).toBeCloseTo(minutesFor(system, one, from), 9)
    }
  })

  test('a test that is excluded is not in it', () => {
    const id = 'on: volts E1.feed BAT.minus'
    const less = decisionTable(bench, start, { from, excluded: new Set([id]) })
    expect(table.tests.some(({ test: one }) => one.id === id)).toBe(true)
    expect(less.tests.some(({ test: one, insteadOf }) => one.id === id || insteadOf.includes(id))).toBe(false)
  })
})

describe('the next step', () => {
  test('is a test while many repairs are believed, and never under its bound', () => {
    const { step, expectedCost, lowerBound, alternatives } = nextStep(
      decisionTable(bench, bench.standing([shown], complaint), { from }),
    )
    expect(step.kind).toBe('test')
    expect(expectedCost).toBeGreaterThanOrEqual(lowerBound)
    expect(alternatives[0].expectedCost).toBeGreaterThanOrEqual(expectedCost)
  })

  test('is the same every time', () => {
    expect(nextStep(table)).toEqual(nextStep(decisionTable(bench, start, { from })))
  })

  test('is the repair once the readings leave one', () => {
    const log = [shown, reading('on: volts E1.feed BAT.minus', 12.4), reading('on: volts E1.ground BAT.minus', 12.4)]
    const standing = bench.standing(log, complaint)
    const { step } = nextStep(
      decisionTable(bench, standing, { from: { setup: testNamed('on: look E1.light').setup, places: ['roof'] } }),
    )
    expect(step).toEqual({ kind: 'repair', repair: 'clean G1' })
  })

  test('gives a mean and a 90 % time, the search before the end', () => {
    const { step } = nextStep(table)
    const { toFind, toEnd, wrongEnd } = stopPoints(table, step)
    expect(toFind.mean).toBeLessThan(toEnd.mean)
    expect(toFind.q90).toBeLessThanOrEqual(toEnd.q90)
    expect(wrongEnd).toBeLessThan(0.2)
  })
})
