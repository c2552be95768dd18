import { flowOf } from '@halfsplit/network'
import { describe, expect, test } from 'vitest'
import { Bench, type Fitted } from '../testing/bench.js'
import { across, atRest } from '../testing/read.js'
import { battery } from './battery.js'
import { diode } from './diode.js'
import { resistor } from './resistor.js'

/** Amperes from 12.6 V through the diode and 11.8 ohm, the right way round or the other. */
function current(forward: boolean, fitted: Fitted = {}): number {
  const [anode, cathode] = forward ? ['plus', 'load'] : ['load', 'plus']
  const bench = new Bench()
    .fit(battery, 'G1', { plus: 'plus', minus: '0' })
    .fit(diode, 'D1', { anode, cathode }, fitted)
    .fit(resistor, 'R1', { a: 'load', b: '0' }, { ratings: { resistance: '11.8 Ohm' } })
  return flowOf(atRest(bench), 'R1:resistor')
}

describe('diode', () => {
  test('has its rated volts over it at its rated current', () => {
    const bench = new Bench()
      .fit(
        battery,
        'G1',
        { plus: 'plus', minus: '0' },
        { ratings: { voltage: '12.6 V', resistance: '0.01 mOhm', clamp: '0.01 mOhm' } },
      )
      .fit(diode, 'D1', { anode: 'plus', cathode: 'load' })
      .fit(resistor, 'R1', { a: 'load', b: '0' }, { ratings: { resistance: '11.8 Ohm' } })
    expect(across(atRest(bench), 'plus', 'load')).toBeCloseTo(0.8, 3)
  })

  test.each([
    [[], 1, 0],
    [['open'], 0, 0],
    [['short'], 1.07, 1.07],
    [['fitted_reversed'], 0, 1],
    [['leaky', 300], 1, 0.04],
  ] as const)('%j lets through %d A forward and %d A backward', (fault, forward, backward) => {
    const fitted: Fitted = fault.length > 0 ? { fault: fault as readonly [string, number?] } : {}
    expect(current(true, fitted)).toBeCloseTo(forward, 1)
    expect(current(false, fitted)).toBeCloseTo(backward, 1)
  })
})
