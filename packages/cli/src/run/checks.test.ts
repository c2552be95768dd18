import { HalfsplitError } from '@halfsplit/core'
import { parseSystem, Realiser, type System } from '@halfsplit/system'
import { describe, expect, it, test } from 'vitest'
import { type Checked, checkRun } from './checks.js'
import { runMachine } from './machine-run.js'
import { requestOf } from './request.js'

/** A compressor that fills a 30 l tank with a drain that may leak, and a lamp that says when the air is low. */
const TANK = (checks: string, leak = '0 l/(s.bar)') => `halfsplit: 1
machine: Tank of Heron
invented: true
parts:
  BAT: { kind: battery }
  S1: { kind: switch }
  P1: { kind: pressure-switch, action: opens_rising, trip: 66 psi, reset: 60 psi }
  H1: { kind: lamp, power: 5 W, voltage: 13 V }
  CP1: { kind: compressor, delivery: 160 l/min, speed: 1000 rpm }
  WET: { kind: supply-tank, volume: 30 l }
  D1: { kind: solenoid-valve-3-2, passage: ${leak} }
joins:
  - [BAT.plus, S1.a]
  - [S1.b, H1.feed]
  - [H1.ground, P1.a]
  - [P1.b, D1.coil_b, BAT.minus, frame]
  - [CP1.discharge, WET.air, P1.pressure, D1.delivery]
states: { empty: { set: { S1: on, WET.pressure: 0 bar } } }
scenarios:
  fill:
    from: empty
    for: 6 min
    drive: { CP1.speed: { 0 min: 1000 rpm, 3 min: 0 rpm } }
    watch: [WET.air]
    checks:
${checks}
`

function checked(checks: string, leak?: string): Checked[] {
  const { system, issues } = parseSystem(TANK(checks, leak), 'tank.yaml') as { system: System; issues: { code: string }[] }
  expect(issues).toEqual([])
  const run = runMachine(
    requestOf(system, { scenario: 'fill', fault: [], seed: '1', every: '1 s' }),
    new Realiser(system),
    [],
    () => {},
  )
  if ('unsettled' in run) throw new HalfsplitError('NO_REST', run.unsettled.status)
  return checkRun(system, run)
}

describe('how long something takes', () => {
  // 85 to 100 psi of 30 l is 30 l x 1.02 = 30.6 l of free air (Boyle's law), at 160 l/min 11.5 s.
  it('is the time from one pressure to the other', () => {
    const [one] = checked('      build: { of: WET.air, from: 85 psi, to: 100 psi, within: 25 s }')
    expect(one.outcome).toBe('kept')
    expect(one.seen).toBeGreaterThan(11)
    expect(one.seen).toBeLessThan(12)
  })

  it('is not kept above its limit, and not kept where it never gets there', () => {
    const outcomes = checked(`      soon: { of: WET.air, from: 85 psi, to: 100 psi, within: 10 s }
      never: { of: WET.air, from: 85 psi, to: 400 psi, within: 10 s }
      off: { of: WET.air, from: 300 psi, to: 400 psi, within: 10 s }`)
    expect(outcomes.map(({ outcome }) => outcome)).toEqual(['not kept', 'not kept', 'undecided'])
  })
})

test('where a pressure stands when a lamp goes dark is held against a limit', () => {
  const outcomes =
    checked(`      warning: { of: WET.air, when: H1.light is dark, at_least: 60 psi, clause: 49 CFR 571.121 S5.1.5 }
      high: { of: WET.air, when: H1.light is dark, at_least: 80 psi }
      upper: { of: WET.air, when: H1.light is dark, at_most: 80 psi }`)
  expect(outcomes.map(({ outcome }) => outcome)).toEqual(['kept', 'not kept', 'kept'])
  expect(outcomes[0].check.clause).toBe('49 CFR 571.121 S5.1.5')
  // It opens at 66 psi.
  expect((outcomes[0].seen as number) / 6894.757 - 14.696).toBeCloseTo(66, 0)
})

describe('how far something falls', () => {
  const falls = '      leak: { of: WET.air, falls: 2 psi, within: 1 min, after: 4 min }'

  it('is nothing where nothing leaks', () => {
    const [one] = checked(falls)
    expect(one.outcome).toBe('kept')
    expect(one.seen).toBeCloseTo(0, 0)
    expect(one.leak).toBeUndefined()
  })

  // 2 psi a minute out of 30 l is about 4 l/min of free air: V dp/p0, general text on pressure-decay tests.
  it('says the leak as free air out of the volume that empties', () => {
    const [one] = checked(falls, '0.0085 l/(s.bar)')
    const { freeAir, volume } = one.leak as { freeAir: number; volume: number }
    const psiAMinute = (one.seen as number) / 6894.757
    expect(volume).toBeCloseTo(0.03, 3)
    expect((freeAir * 6e4) / psiAMinute).toBeCloseTo(4.07 / 2, 1)
    expect(one.text).toContain('l/min of free air out of 30 l')
    expect(one.text).toContain('by cooling alone, and then stop')
  })
})

test.each([
  ['      a: { from: 85 psi, to: 100 psi, within: 25 s }', 'KEY_MISSING'],
  ['      a: { of: WET.air, from: 85 psi, within: 25 s }', 'KEY_MISSING'],
  ['      a: { of: WET.air }', 'KEY_MISSING'],
  ['      a: { of: WET.air, when: H1.light is purple, at_least: 60 psi }', 'UNKNOWN_WORD'],
  ['      a: { of: H1.light, from: 85 psi, to: 100 psi, within: 25 s }', 'UNKNOWN_WATCHED'],
  ['      a: { of: WET.oil, from: 85 psi, to: 100 psi, within: 25 s }', 'UNKNOWN_WATCHED'],
  ['      a: { of: WET.air, from: 85 V, to: 100 psi, within: 25 s }', 'UNIT_MISMATCH'],
])('a check that asks for nothing that can be seen is said: %s', (text, code) => {
  const { issues } = parseSystem(TANK(text), 'tank.yaml')
  expect(issues.map((issue) => issue.code)).toEqual([code])
})
