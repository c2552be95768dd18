import { describe, expect, test } from 'vitest'
import { battery } from '../electrical/battery.js'
import { keySwitch } from '../electrical/key-switch.js'
import { lamp } from '../electrical/lamp.js'
import { ntcSender } from '../electrical/ntc-sender.js'
import { resistor } from '../electrical/resistor.js'
import { Bench, type Fitted } from '../testing/bench.js'
import { across, atRest } from '../testing/read.js'
import { coolant } from '../thermal/coolant.js'
import { preheatModule } from './preheat-module.js'

interface Case {
  celsius: number
  /** Seconds since the key was turned on. */
  elapsed: number
  key?: 'off' | 'run' | 'start'
  volts?: string
  fault?: Fitted['fault']
  sender?: Fitted['fault']
}

function preheat({ celsius, elapsed, key = 'run', volts = '12 V', fault, sender }: Case): { relay: boolean; lamp: boolean } {
  const joined = { feed: 'run', ground: '0', key: 'run', crank: 'start', sensor: 'sensor', relay: 'coil', lamp: 'lamp' }
  const settled = atRest(
    new Bench()
      .fit(battery, 'G1', { plus: 'plus', minus: '0' }, { ratings: { voltage: volts } })
      .fit(keySwitch, 'S1', { battery: 'plus', run: 'run', start: 'start' }, { settings: { position: key } })
      .fit(coolant, 'C1', { liquid: 'liquid' }, { settings: { temperature: `${celsius} degC` } })
      .fit(ntcSender, 'B1', { a: 'sensor', b: '0', sense: 'liquid' }, { fault: sender })
      .fit(resistor, 'R1', { a: 'coil', b: '0' }, { ratings: { resistance: '85 Ohm' } })
      .fit(lamp, 'P1', { feed: 'lamp', ground: '0' }, { ratings: { power: '2 W', voltage: '12 V' } })
      .fit(preheatModule, 'K1', joined, { settings: { elapsed: `${elapsed} s` }, fault }),
  )
  return { relay: across(settled, 'coil') > 9, lamp: across(settled, 'lamp') > 9 }
}

const ON = { relay: true, lamp: true }
const OFF = { relay: false, lamp: false }
const HELD = { relay: true, lamp: false }

describe('preheat timer', () => {
  // System B of the project's compilation of trade practice: 20 s at -15 degC, 12 s at 0, 5 s at 20, none above 50.
  test.each([
    [-15, 20],
    [0, 12],
    [20, 5],
  ])('at %d degC glows for %d s', (celsius, seconds) => {
    expect(preheat({ celsius, elapsed: 0.95 * seconds })).toEqual(ON)
    expect(preheat({ celsius, elapsed: 1.05 * seconds })).toEqual(OFF)
  })

  test('does not glow in a warm engine, with the key off, or without its supply', () => {
    expect(preheat({ celsius: 55, elapsed: 0 })).toEqual(OFF)
    expect(preheat({ celsius: -15, elapsed: 0, key: 'off' })).toEqual(OFF)
    expect(preheat({ celsius: -15, elapsed: 0, volts: '5 V' })).toEqual(OFF)
  })

  test('glows again while a cold engine is cranked, and not a warm one', () => {
    expect(preheat({ celsius: -15, elapsed: 40, key: 'start' })).toEqual(HELD)
    expect(preheat({ celsius: 60, elapsed: 40, key: 'start' })).toEqual(OFF)
  })

  test('takes an open sender for very cold, a shorted one for warm', () => {
    expect(preheat({ celsius: 20, elapsed: 30, sender: ['open'] })).toEqual(ON)
    expect(preheat({ celsius: -15, elapsed: 1, sender: ['short'] })).toEqual(OFF)
  })

  test.each([
    ['timing_or_threshold_drifted', -0.7, 5.5, ON],
    ['timing_or_threshold_drifted', -0.7, 6.5, OFF],
    ['relay_output_open', 1, 2, { relay: false, lamp: true }],
    ['lamp_output_open', 1, 2, { relay: true, lamp: false }],
    ['relay_output_shorted', 1, 60, { relay: true, lamp: false }],
    ['lamp_output_shorted', 1, 60, { relay: false, lamp: true }],
    ['cracked_joint', 1, 2, OFF],
  ] as const)('with %s (%d), %d s after the key', (mode, size, elapsed, outputs) => {
    expect(preheat({ celsius: -15, elapsed, fault: [mode, size] })).toEqual(outputs)
  })
})
