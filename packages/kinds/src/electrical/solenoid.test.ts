import { describe, expect, test } from 'vitest'
import { Bench, type Fitted } from '../testing/bench.js'
import { atRest, seen } from '../testing/read.js'
import { battery } from './battery.js'
import { resistor } from './resistor.js'
import { solenoidValve32 } from './solenoid-valve-3-2.js'

const JOINED = { coil_a: 'coil', coil_b: '0' }

/** A valve fed through a resistance, its air side left alone. */
function fed(volts: string, series: string, fitted: Fitted): Bench {
  return new Bench()
    .fit(battery, 'G1', { plus: 'plus', minus: '0' }, { ratings: { voltage: volts } })
    .fit(resistor, 'R1', { a: 'plus', b: 'coil' }, { ratings: { resistance: series } })
    .fit(solenoidValve32, 'Y1', JOINED, fitted)
}
const pulls = (volts: string, series: string, fitted: Fitted): boolean => atRest(fed(volts, series, fitted)).state['Y1:pulled']

describe('solenoid valve', () => {
  // System A of the project's compilation of trade practice: 57.6 ohm, pulls in at 18 V cold; 25 ohm in its feed at 27.6 V leaves it
  // 19.2 V cold, which is enough, and 20.5 V hot, where it needs 22.6 V.
  const coil = { ratings: { coil: '57.6 Ohm', pull_in: '18 V' } }
  test('with 25 ohm in its feed pulls cold and not hot', () => {
    expect(pulls('27.6 V', '25 Ohm', coil)).toBe(true)
    expect(pulls('27.6 V', '25 Ohm', { ...coil, settings: { temperature: '85 degC' } })).toBe(false)
    expect(pulls('27.6 V', '0.1 Ohm', { ...coil, settings: { temperature: '85 degC' } })).toBe(true)
  })

  test('whose coil opens when hot pulls cold and not hot', () => {
    const fault = ['coil_opens_when_hot', 343.5] as const
    expect(pulls('27.6 V', '0.1 Ohm', { ...coil, fault })).toBe(true)
    expect(pulls('27.6 V', '0.1 Ohm', { ...coil, fault, settings: { temperature: '75 degC' } })).toBe(false)
  })

  test('that sticks draws its current and makes no click', () => {
    const fitted: Fitted = { ...coil, fault: ['sticks_at_rest'] }
    const settled = atRest(fed('27.6 V', '0.1 Ohm', fitted))
    expect(seen(settled, solenoidValve32, 'Y1', 'magnet', JOINED, fitted)).toBe('pulls')
    expect(seen(settled, solenoidValve32, 'Y1', 'click', JOINED, fitted)).toBe('at rest')
  })

  test('with its coil open has no pull', () => {
    const fitted: Fitted = { ...coil, fault: ['coil_open'] }
    expect(seen(atRest(fed('27.6 V', '0.1 Ohm', fitted)), solenoidValve32, 'Y1', 'magnet', JOINED, fitted)).toBe('none')
  })
})
