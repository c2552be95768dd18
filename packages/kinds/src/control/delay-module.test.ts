import { describe, expect, test } from 'vitest'
import { battery } from '../electrical/battery.js'
import { resistor } from '../electrical/resistor.js'
import { manualSwitch } from '../electrical/switch.js'
import { Bench, type Fitted } from '../testing/bench.js'
import { across, atRest } from '../testing/read.js'
import { delayModule } from './delay-module.js'

/** Volts at the output, with a 60 ohm load on it. */
function output(input: 'on' | 'off', fitted: Fitted = {}, volts = '12.6 V'): number {
  const bench = new Bench()
    .fit(battery, 'G1', { plus: 'plus', minus: '0' }, { ratings: { voltage: volts } })
    .fit(manualSwitch, 'S1', { a: 'plus', b: 'in' }, { settings: { position: input } })
    .fit(delayModule, 'K1', { feed: 'plus', ground: '0', input: 'in', output: 'out' }, fitted)
    .fit(resistor, 'R1', { a: 'out', b: '0' }, { ratings: { resistance: '60 Ohm' } })
  return across(atRest(bench), 'out')
}

describe('delay module', () => {
  test('at rest its output follows its input', () => {
    expect(output('on')).toBeGreaterThan(12)
    expect(output('off')).toBeLessThan(0.1)
  })

  test('without the supply it needs it stays off', () => {
    expect(output('on', {}, '7 V')).toBeLessThan(0.1)
  })

  test.each([
    ['output_stage_open', 'on', false],
    ['output_stage_shorted', 'off', true],
    ['cracked_joint', 'on', false],
  ] as const)('with %s and its input %s its output is live: %s', (mode, input, live) => {
    expect(output(input, { fault: [mode] }) > 6).toBe(live)
  })
})
