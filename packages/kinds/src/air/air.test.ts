import { STANDARD_ATMOSPHERE } from '@halfsplit/core'
import { flowOf, REFERENCE_DENSITY, type Settled } from '@halfsplit/network'
import { describe, expect, test } from 'vitest'
import { battery } from '../electrical/battery.js'
import { pressureSwitch } from '../electrical/pressure-switch.js'
import { solenoidValve32 } from '../electrical/solenoid-valve-3-2.js'
import { Bench, type Fitted } from '../testing/bench.js'
import { across, atRest, seen } from '../testing/read.js'
import { airClutch } from './air-clutch.js'
import { airSupply } from './air-supply.js'
import { fitting } from './fitting.js'
import { hose, tube } from './hose.js'
import { regulator } from './regulator.js'
import { screen } from './screen.js'

const CLUTCH = { air: 'clutch' }

/** Supply at 8 bar, screen, regulator at 6.5 bar, valve, hose of 6 mm by 3 m, fitting, clutch; one part of it at fault. */
function line(volts: string, part?: string, fault?: Fitted['fault']): Settled {
  const at = (name: string): Fitted => (name === part ? { fault } : {})
  const bench = new Bench()
    .fit(battery, 'G1', { plus: 'plus', minus: '0' }, { ratings: { voltage: volts } })
    .fit(airSupply, 'C1', { out: 'tank' }, at('C1'))
    .fit(screen, 'V1', { in: 'tank', out: 'clean' }, at('V1'))
    .fit(regulator, 'R1', { in: 'clean', out: 'set' }, at('R1'))
    .fit(solenoidValve32, 'Y1', { coil_a: 'plus', coil_b: '0', supply: 'set', delivery: 'valve' }, at('Y1'))
    .fit(hose, 'W9', { a: 'valve', b: 'end' }, { ratings: { length: '3 m' }, ...at('W9') })
    .fit(fitting, 'X9', { a: 'end', b: 'clutch' }, at('X9'))
    .fit(airClutch, 'Q1', CLUTCH, at('Q1'))
  return atRest(bench)
}

const bar = (settled: Settled, node: string): number => (across(settled, node) - STANDARD_ATMOSPHERE) / 1e5
/** Free air [l/min] through an element. */
const litres = (settled: Settled, element: string): number => (flowOf(settled, element) / REFERENCE_DENSITY) * 6e4
const drive = (settled: Settled, fault?: Fitted['fault']): string => seen(settled, airClutch, 'Q1', 'drive', CLUTCH, { fault })

const ON = '27.6 V'
const OFF = '0 V'

describe('a line of air parts from tank to clutch', () => {
  test('with the valve on the clutch gets the set pressure and is released', () => {
    const settled = line(ON)
    expect(bar(settled, 'clutch')).toBeCloseTo(6.5, 2)
    expect(drive(settled)).toBe('released')
  })

  test('with the valve off the clutch is vented and drives', () => {
    const settled = line(OFF)
    expect(bar(settled, 'clutch')).toBeCloseTo(0, 2)
    expect(drive(settled)).toBe('driven')
  })

  test('a regulator drifted to 4.2 bar makes the clutch drag', () => {
    // System A of the project's compilation of trade practice: R1 drifted to 4.2 bar (drags).
    const settled = line(ON, 'R1', ['set_point_drifted', -2.3e5])
    expect(bar(settled, 'clutch')).toBeCloseTo(4.2, 2)
    expect(drive(settled)).toBe('drags')
  })

  test('a creeping regulator lets the whole supply through when nothing flows', () => {
    expect(bar(line(ON, 'R1', ['creeps_up', 1e-3]), 'clutch')).toBeCloseTo(8, 1)
  })

  test('a leak of 20 l/min is heard and lowers the pressure by what regulator, valve and hose lose', () => {
    // Out of 7.5 bar absolute, 20 l/min is a sonic conductance of 20/60/7.5 = 0.044 l/(s.bar).
    const settled = line(ON, 'W9', ['leaks_outside', 4.4e-10])
    expect(litres(settled, 'W9:leak')).toBeGreaterThan(19)
    expect(litres(settled, 'W9:leak')).toBeLessThan(21)
    expect(bar(settled, 'clutch')).toBeLessThan(6.5)
    expect(bar(settled, 'clutch')).toBeGreaterThan(6)
    expect(seen(settled, hose, 'W9', 'leak')).toBe('hisses')
  })

  test('a burst hose pulls the tank down and the clutch drives', () => {
    const settled = line(ON, 'W9', ['bursts'])
    expect(bar(settled, 'tank')).toBeLessThan(7)
    expect(drive(settled)).toBe('driven')
  })

  test('a valve worn in its seat blows at its exhaust with the coil dead', () => {
    const settled = line(OFF, 'Y1', ['leaks_internally', 1e-9])
    expect(seen(settled, solenoidValve32, 'Y1', 'exhaust')).toBe('hisses')
  })

  test.each([
    ['sticks_engaged', ON, 'driven'],
    ['sticks_released', OFF, 'released'],
    ['bearing', ON, 'drags'],
  ])('a clutch with %s at %s is %s', (mode, volts, word) => {
    expect(drive(line(volts, 'Q1', [mode]), [mode])).toBe(word)
  })

  test('a clutch with worn lining slips with no air in it', () => {
    expect(drive(line(OFF, 'Q1', ['lining_worn', 1.5]), ['lining_worn', 1.5])).toBe('drags')
  })
})

describe('pressure switch', () => {
  const tripped = (pressure: string, from: boolean, fitted: Fitted = {}): boolean => {
    const bench = new Bench()
      .fit(airSupply, 'C1', { out: 'tank' }, { settings: { pressure } })
      .fit(pressureSwitch, 'B1', { pressure: 'tank' }, fitted)
    return atRest(bench, { 'B1:tripped': from }).state['B1:tripped']
  }
  test.each([
    ['5.2 bar', false, true],
    ['4.7 bar', false, false],
    ['4.7 bar', true, true],
    ['4.3 bar', true, false],
  ])('that trips at 5 and resets at 4.5 bar, at %s coming from %s, is %s', (pressure, from, is) => {
    expect(tripped(pressure, from)).toBe(is)
  })

  test('with its port blocked does not see the pressure', () => {
    expect(tripped('8 bar', false, { fault: ['port_blocked'] })).toBe(false)
  })
})

test('a tube of 6 mm by 3 m has 2.2 l/(s.bar), a short one twice that', () => {
  // The formula worked by hand: 0.029 * 36e-6 / sqrt(3/0.006^1.25 + 510) = 2.17e-8 m3/(s.Pa); formula from memory.
  expect(tube(0.006, 3).c).toBeCloseTo(2.17e-8, 10)
  expect(tube(0.006, 3).b).toBeCloseTo(0.286, 2)
  expect(tube(0.006, 0).c / tube(0.006, 3).c).toBeCloseTo(2.13, 1)
})
