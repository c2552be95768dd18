import { flowOf } from '@halfsplit/network'
import { describe, expect, test } from 'vitest'
import { Bench, type Fitted } from '../testing/bench.js'
import { across, atRest, seen } from '../testing/read.js'
import { battery } from './battery.js'
import { motor } from './motor.js'
import { resistorBlock } from './resistor-block.js'
import { stepSwitch } from './step-switch.js'

type Faults = Readonly<Record<string, Fitted['fault']>>
const BLOWER = { ratings: { voltage: '24 V', current: '6.7 A', winding: '0.6 Ohm' } }

/** A blower behind a resistor block at the steps 1 to 3, straight on the battery at 4. */
function blower(position: string, faults: Faults = {}): Bench {
  return new Bench()
    .fit(battery, 'G1', { plus: 'plus', minus: '0' }, { ratings: { voltage: '24 V' } })
    .fit(
      stepSwitch,
      'S1',
      { feed: 'plus', step1: 'low', step2: 'mid', step3: 'high', step4: 'motor' },
      { settings: { position }, fault: faults.S1 },
    )
    .fit(resistorBlock, 'R1', { low: 'low', mid: 'mid', high: 'high', motor: 'motor' }, { fault: faults.R1 })
    .fit(motor, 'M1', { feed: 'motor', ground: '0' }, { ...BLOWER, fault: faults.M1 })
}

const turns = (position: string, faults?: Faults): string =>
  seen(atRest(blower(position, faults)), motor, 'M1', 'turns', {}, BLOWER)
const everyStep = (faults?: Faults): string[] => ['1', '2', '3', '4'].map((position) => turns(position, faults))

describe('blower with resistor block', () => {
  // System I of the project's compilation of trade practice: 2.4, 1.1 and 0.5 ohm.
  test('has the resistance of its step in front of it', () => {
    for (const [position, ohms] of [
      ['1', 2.4],
      ['2', 1.1],
      ['3', 0.5],
    ] as const) {
      const settled = atRest(blower(position))
      expect(across(settled, ['low', 'mid', 'high'][Number(position) - 1], 'motor') / flowOf(settled, 'R1:fuse')).toBeCloseTo(
        ohms,
        2,
      )
    }
  })

  test('turns faster from step to step', () => {
    const speeds = ['off', '1', '2', '3', '4'].map((position) => across(atRest(blower(position)), 'M1~shaft'))
    expect(speeds).toEqual([...speeds].sort((p, q) => p - q))
    expect(speeds[1] / speeds[4]).toBeLessThan(0.6)
  })

  test.each([
    ['thermal_fuse_open', ['no', 'no', 'no', 'normal']],
    ['low_coil_open', ['no', 'slow', 'normal', 'normal']],
    ['mid_coil_open', ['no', 'no', 'normal', 'normal']],
    ['high_coil_open', ['no', 'no', 'no', 'normal']],
  ] as const)('with %s', (mode, words) => {
    expect(everyStep({ R1: [mode] })).toEqual(words)
  })

  test('with a step that will not make is dead at that step alone', () => {
    expect(everyStep({ S1: ['step_3_open'] })).toEqual(['slow', 'slow', 'no', 'normal'])
  })

  test('that jams burns through the thermal fuse of its resistor block', () => {
    const limit = resistorBlock.overload?.({ value: () => 12 } as never)?.limit as number
    expect(flowOf(atRest(blower('3')), 'R1:fuse')).toBeLessThan(limit)
    expect(flowOf(atRest(blower('3', { M1: ['bearings_or_load_stiff', 8] })), 'R1:fuse')).toBeGreaterThan(limit)
  })
})
