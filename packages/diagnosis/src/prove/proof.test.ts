import { describe, expect, test } from 'vitest'
import { ASSUMPTIONS } from '@halfsplit/core'
import { looksNeeded } from '@halfsplit/inference'
import type { LogItem } from '../evidence.js'
import { bench, complaint, faultNamed, reading, seen } from '../testing/relay-lamp.js'
import { sized, stretches } from '../faults.js'
import { exposedBy, goodAt } from './exposure.js'
import { proof } from './proof.js'
import { risks } from './risk.js'

const DARK = seen('on: look E1.light', 'dark')
const LIT = seen('on: look E1.light', 'bright')
const DROP = reading('on: volts X1.1/a X1.1/b', 11.9)
const RENEWED: LogItem = { kind: 'repaired', repairs: ['renew X1.1'] }
const PULLED: LogItem = { kind: 'disturbed', parts: ['X1'] }
const FROM = { setup: { state: 'on' }, places: [] }

const proofOf = (log: readonly LogItem[], howOften?: number) =>
  proof(bench, bench.standing(log, { ...complaint, howOften }), log, FROM)
const believed = (log: readonly LogItem[], kind: string): number =>
  risks(bench, bench.standing(log, complaint)).reduce((sum, one) => (one.kind === kind ? sum + one.probability : sum), 0)

describe('what could still be wrong', () => {
  test('before any repair all that is believed wrong is still there', () => {
    const standing = bench.standing([DARK, DROP], complaint)
    const wrong = 1 - standing.nothingWrong - standing.absentNow - standing.notDescribed
    const still = risks(bench, standing)
    expect(still.every(({ kind }) => kind === 'cause still there')).toBe(true)
    expect(still.reduce((sum, { probability }) => sum + probability, 0)).toBeCloseTo(wrong, 3)
  })

  test('after the repair a new contact is bad as often as new parts are, a good look makes it rarer, a bad one likelier', () => {
    const repaired = believed([DARK, DROP, RENEWED], 'new part bad')
    expect(repaired / ASSUMPTIONS.badNewPart).toBeGreaterThan(0.7)
    expect(repaired / ASSUMPTIONS.badNewPart).toBeLessThan(1.01)
    expect(believed([DARK, DROP, RENEWED, LIT], 'new part bad')).toBeLessThan(repaired / 3)
    expect(believed([DARK, DROP, RENEWED, DARK], 'new part bad')).toBeGreaterThan(5 * repaired)
  })

  test('a contact that was moved and is well now is not mended', () => {
    expect(believed([DARK, DROP, PULLED, LIT], 'cured for now')).toBeGreaterThan(0.5)
    expect(believed([DARK, DROP, PULLED, RENEWED, LIT], 'cured for now')).toBeLessThan(0.05)
  })

  test('the repair may have left an error of building, and moving a plug may have spoilt its contacts', () => {
    expect(believed([DARK, DROP, RENEWED], 'neighbour disturbed')).toBeCloseTo(ASSUMPTIONS.disturbedSpoils, 6)
    const plug = [DARK, DROP, PULLED, { kind: 'repaired', repairs: ['replace D1'] }] as const
    expect(believed(plug, 'build error')).toBeCloseTo(ASSUMPTIONS.buildError, 6)
  })
})

describe('the proof plan', () => {
  const plan = proofOf([DARK, DROP, RENEWED])

  test('the complaint is looked at first, then what decided is read again', () => {
    expect(plan.steps[0]).toMatchObject({ why: 'complaint', test: { id: 'on: look E1.light' }, looks: 1, done: 0 })
    expect(plan.steps[1]).toMatchObject({ why: 'decided', test: { id: 'on: volts X1.1/a X1.1/b' } })
    const { probe } = plan.steps[0].test
    expect(probe.kind === 'look' && probe.look.words[(plan.steps[0].good as { word: number }).word]).toBe('bright')
  })

  test('it exposes most of what could still be wrong, and what is left is that much less', () => {
    expect(plan.exposed).toBeGreaterThan(0.8)
    expect(plan.left).toBeCloseTo(plan.risk * (1 - plan.exposed), 12)
  })

  test('good looks taken since the repair are counted, those before it are not', () => {
    expect(proofOf([LIT, DARK, DROP, RENEWED, LIT, LIT]).steps[0]).toMatchObject({ done: 2, spoiled: false })
    expect(proofOf([DARK, DROP, RENEWED, DARK]).steps[0]).toMatchObject({ done: 0, spoiled: true })
  })

  // 0.95^59 = 0.0485 < 0.05 < 0.0510 = 0.95^58
  test('a complaint that shows 5 % of the time is looked at 59 times', () => {
    expect(0.95 ** 59).toBeLessThan(0.05)
    expect(0.95 ** 58).toBeGreaterThan(0.05)
    expect(proofOf([DARK, DROP, RENEWED], 0.05).steps[0].looks).toBe(59)
    expect(looksNeeded(0.05, 0.05)).toBe(59)
  })
})

describe('what a test exposes', () => {
  const open = faultNamed('4.open')
  const faults = [sized(open, stretches(open.severity)[0])]

  test('a broken wire to the lamp shows at the lamp while it is on, and nowhere while it is off', () => {
    const light = bench.tests.find(({ id }) => id === 'on: look E1.light')
    const rest = bench.tests.find(({ id }) => id === 'key: look E1.light')
    for (const [test, least, most] of [[light, 0.9, 1] as const, [rest, 0, 0.01] as const]) {
      if (!test) throw new Error('no such look')
      const good = goodAt(bench, test.setup, test.probe)
      if (!good) throw new Error('no good word')
      const chance = exposedBy(bench, faults, test.setup, test.probe, good)
      expect(chance).toBeGreaterThanOrEqual(least)
      expect(chance).toBeLessThanOrEqual(most)
    }
  })
})
