import type { Settled } from '@halfsplit/network'
import { describe, expect, test } from 'vitest'
import { battery } from '../electrical/battery.js'
import { Bench, type Fitted } from '../testing/bench.js'
import { atRest, seen } from '../testing/read.js'
import { brakeChamber } from './brake-chamber.js'
import { solenoidValve52 } from './solenoid-valve-5-2.js'
import { supplyTank } from './supply-tank.js'

const CHAMBER = { air: 'chamber' }

/** A tank at 7 bar, a 5/2 valve, a chamber at its way `a` and a spring brake at its way `b`. */
function worked(volts: string, valve: Fitted['fault'], brake: Fitted['fault']): Settled {
  return atRest(
    new Bench()
      .fit(battery, 'G1', { plus: 'plus', minus: '0' }, { ratings: { voltage: volts } })
      .fit(supplyTank, 'C1', { air: 'tank' }, { settings: { pressure: '7 bar' } })
      .fit(solenoidValve52, 'Y1', { coil_a: 'plus', coil_b: '0', supply: 'tank', a: 'chamber', b: 'spring' }, { fault: valve })
      .fit(brakeChamber, 'M1', CHAMBER, { fault: brake })
      .fit(brakeChamber, 'M2', { air: 'spring' }, { choices: { acts: 'by_spring' } }),
  )
}

describe('a 5/2 valve with a chamber on each way', () => {
  test.each([
    ['27.6 V', undefined, undefined, 'out', 'out'],
    ['0 V', undefined, undefined, 'in', 'in'],
    ['27.6 V', ['sticks_at_rest'], undefined, 'in', 'in'],
    ['27.6 V', undefined, ['mechanical_end'], 'in', 'out'],
  ] as const)('at %s with valve in %j and chamber in %j: rod by air %s, rod by spring %s', (volts, valve, brake, air, spring) => {
    const settled = worked(volts, valve, brake)
    expect(seen(settled, brakeChamber, 'M1', 'rod', CHAMBER, { fault: brake })).toBe(air)
    expect(seen(settled, brakeChamber, 'M2', 'rod', { air: 'spring' }, { choices: { acts: 'by_spring' } })).toBe(spring)
  })

  test('with a torn diaphragm blows at its breather', () => {
    const settled = worked('27.6 V', undefined, ['leaks_past_piston', 1e-9])
    expect(seen(settled, brakeChamber, 'M1', 'breather')).toBe('hisses')
    expect(seen(settled, brakeChamber, 'M1', 'leak')).toBe('quiet')
  })
})
