import { flowOf } from '@halfsplit/network'
import { describe, expect, test } from 'vitest'
import { battery } from '../electrical/battery.js'
import { motor } from '../electrical/motor.js'
import { coolantPump } from '../rotation/coolant-pump.js'
import { Bench, type Fitted } from '../testing/bench.js'
import { across, atRest, seen } from '../testing/read.js'
import { cabAir } from './cab-air.js'
import { coolant } from './coolant.js'
import { coolantValve } from './coolant-valve.js'
import { heaterMatrix } from './heater-matrix.js'

const CAB = { ratings: { capacity: '80 kJ/K', loss: '70 W/K' }, settings: { temperature: '10 degC', outside: '-5 degC' } }
const IN_MATRIX = { coolant: 'hose', cab: 'cab' }

type Faults = Readonly<Record<string, Fitted['fault']>>

/** A heater on coolant of 84 degC, its blower and its pump on 24 V; `valve` at its coil [V]. */
function heater(faults: Faults = {}, valve = '0.1 V', blower = '24 V'): Bench {
  const motorOf = (current: string): Fitted => ({ ratings: { voltage: '24 V', current, winding: '1 Ohm' } })
  const source = (voltage: string): Fitted => ({ ratings: { voltage } })
  return new Bench()
    .fit(battery, 'G1', { plus: 'plus', minus: '0' }, source('24 V'))
    .fit(battery, 'G2', { plus: 'knob', minus: '0' }, source(valve))
    .fit(battery, 'G3', { plus: 'step', minus: '0' }, source(blower))
    .fit(coolant, 'C1', { liquid: 'engine' }, { settings: { temperature: '84 degC' } })
    .fit(
      coolantValve,
      'Q1',
      { coil_a: 'knob', coil_b: '0', in: 'engine', out: 'hose' },
      { ratings: { coil: '41 Ohm' }, fault: faults.Q1 },
    )
    .fit(motor, 'M1', { feed: 'step', ground: '0', drive: 'blower' }, { ...motorOf('6.7 A'), fault: faults.M1 })
    .fit(motor, 'M2', { feed: 'plus', ground: '0', drive: 'shaft' }, { ...motorOf('1.4 A'), fault: faults.M2 })
    .fit(coolantPump, 'P1', { shaft: 'shaft', impeller: 'impeller' }, { fault: faults.P1 })
    .fit(heaterMatrix, 'E1', { ...IN_MATRIX, blower: 'blower', pump: 'impeller' }, { fault: faults.E1 })
    .fit(cabAir, 'B1', { air: 'cab' }, { ...CAB, fault: faults.B1 })
}

const look = (faults: Faults, name: string, valve?: string): string =>
  seen(atRest(heater(faults, valve)), heaterMatrix, 'E1', name, IN_MATRIX, { fault: faults.E1 })
const drop = (bench: Bench): number => across(atRest(bench), 'hose', 'E1~core')

describe('heater of a cab', () => {
  test('gives the cab what it takes from the coolant', () => {
    const settled = atRest(heater())
    const given = flowOf(settled, 'E1:slow_air') + flowOf(settled, 'E1:full_air') + flowOf(settled, 'E1:still_air')
    expect(given).toBeCloseTo(flowOf(settled, 'E1:circulated') + flowOf(settled, 'E1:driven'), 6)
    // What the cab keeps: 70 W/K leak 15 K out.
    expect(flowOf(settled, 'B1:mass')).toBeCloseTo(given - 70 * 15, 6)
    expect(seen(settled, cabAir, 'B1', 'warms', { air: 'cab' }, CAB)).toBe('warms up')
  })

  // System I of the project's compilation of trade practice: half blocked, the outlet hose is 25 K colder.
  test('whose matrix is half blocked has an outlet hose some 25 K colder', () => {
    const half = { E1: ['half_blocked', 0.75] } as const
    expect(drop(heater(half)) - drop(heater())).toBeGreaterThan(15)
    expect(drop(heater(half)) - drop(heater())).toBeLessThan(35)
    expect(look(half, 'difference')).toBe('clearly colder')
    expect(look(half, 'heat')).toBe('good')
  })

  test.each([
    ['as it should be', {}, 'good', 'hot'],
    ['with an air lock', { E1: ['air_lock', 1] }, 'none', 'hot'],
    ['whose valve sticks shut', { Q1: ['sticks_operated'] }, 'none', 'cold'],
    ['whose pump lost its impeller', { P1: ['drive_or_coupling_broken'] }, 'none', 'hot'],
    ['whose pump jams', { P1: ['jammed_or_impeller_blocked'] }, 'none', 'hot'],
    ['whose pump motor spins without effect', { M2: ['drive_part'] }, 'none', 'hot'],
    ['whose blower stands', { M1: ['winding_open'] }, 'none', 'hot'],
    ['full of dust', { E1: ['fins_blocked', 0.9] }, 'little', 'hot'],
  ] as const)('%s', (_case, faults: Faults, heat, inlet) => {
    expect(look(faults, 'heat')).toBe(heat)
    expect(look(faults, 'inlet')).toBe(inlet)
  })

  test('is shut off by its valve, unless that leaks', () => {
    expect(look({}, 'heat', '24 V')).toBe('none')
    expect(look({ Q1: ['leaks_internally', 0.3] }, 'heat', '24 V')).toBe('good')
  })

  test('gives less with its blower at half speed', () => {
    const given = (blower: string) => flowOf(atRest(heater({}, '0.1 V', blower)), 'B1:mass')
    expect(given('24 V')).toBeGreaterThan(given('13 V') + 500)
    expect(given('13 V')).toBeGreaterThan(given('0.1 V') + 500)
  })
})

test('a cab with a draught stays cold', () => {
  const draughty = { ...CAB, fault: ['draught', 4] as const }
  const settled = atRest(new Bench().fit(cabAir, 'B1', {}, draughty))
  expect(seen(settled, cabAir, 'B1', 'warms', {}, draughty)).toBe('stays cold')
  // -70 W/K x 5 x 15 K
  expect(flowOf(settled, 'B1:mass')).toBeCloseTo(-5250, 6)
})
