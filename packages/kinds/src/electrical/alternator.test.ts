import { flowOf, type Settled } from '@halfsplit/network'
import { describe, expect, test } from 'vitest'
import { Bench, type Fitted } from '../testing/bench.js'
import { across, atRest } from '../testing/read.js'
import { engineCoolant } from '../thermal/engine-coolant.js'
import { alternator } from './alternator.js'
import { battery } from './battery.js'
import { lamp } from './lamp.js'
import { resistor } from './resistor.js'

interface Case {
  rpm: number
  /** Load [ohm]. */
  ohms?: number
  fitted?: Fitted
  lampFault?: Fitted['fault']
}

/** An alternator on a charged battery that takes nothing above 13.4 V, with a load and its lamp. */
function charging({ rpm, ohms = 1, fitted, lampFault }: Case): Settled {
  return atRest(
    new Bench()
      .fit(engineCoolant, 'M1', { shaft: 'crank' }, { settings: { speed: `${rpm} rpm` } })
      .fit(battery, 'G1', { plus: 'bus', minus: '0' }, { ratings: { voltage: '13.4 V', resistance: '20 mOhm' } })
      .fit(resistor, 'R1', { a: 'bus', b: '0' }, { ratings: { resistance: `${ohms} Ohm` } })
      .fit(lamp, 'P1', { feed: 'bus', ground: 'd' }, { ratings: { power: '3 W', voltage: '13.5 V' }, fault: lampFault })
      .fit(alternator, 'G2', { output: 'bus', ground: '0', lamp: 'd', shaft: 'crank' }, fitted),
  )
}
const amps = (settled: Settled): number => flowOf(settled, 'G2:stator')

describe('alternator', () => {
  // System D of the project's compilation of trade practice: 90 A, 14.2 V at 20 degC, -24 mV/K; one diode open leaves 55 A.
  test('holds its regulated voltage, less when hot', () => {
    const at = (temperature: string) => across(charging({ rpm: 2500, fitted: { settings: { temperature } } }), 'bus')
    expect(at('20 degC')).toBeGreaterThan(14)
    expect(at('20 degC')).toBeLessThan(14.2)
    expect((at('20 degC') - at('60 degC')) / 40).toBeCloseTo(0.024, 2)
  })

  test('gives at most its current, less at low speed', () => {
    expect(amps(charging({ rpm: 2500, ohms: 0.05 }))).toBeCloseTo(90, 6)
    expect(amps(charging({ rpm: 800, ohms: 0.05 }))).toBeLessThan(45)
    expect(amps(charging({ rpm: 2500, ohms: 0.05, fitted: { fault: ['rectifier_diode_open'] } }))).toBeCloseTo(54, 6)
  })

  test('lights its lamp while the engine stands, and not while it charges', () => {
    const over = (rpm: number, fitted?: Fitted) => Math.abs(across(charging({ rpm, fitted }), 'bus', 'd'))
    expect(over(0)).toBeGreaterThan(10)
    expect(over(1000)).toBeLessThan(1)
    expect(over(1000, { fault: ['no_charge'] })).toBeLessThan(0.1)
  })

  test('with its lamp burnt out charges only once it is revved', () => {
    const lampFault = ['filament_open'] as const
    expect(amps(charging({ rpm: 1000, lampFault }))).toBe(0)
    expect(amps(charging({ rpm: 2000, lampFault }))).toBeGreaterThan(10)
  })

  test.each([
    ['no_charge', undefined, 0, 0.001],
    ['belt_or_pulley_slips', 0.9, 8, 10],
  ] as const)('with %s at full load gives little', (mode, size, least, most) => {
    const current = amps(charging({ rpm: 2500, ohms: 0.05, fitted: { fault: [mode, size] } }))
    expect(current).toBeGreaterThanOrEqual(least)
    expect(current).toBeLessThanOrEqual(most)
  })

  test('overcharges with its regulator shorted, and drains the battery through a leaking diode', () => {
    expect(across(charging({ rpm: 2500, fitted: { fault: ['overcharges'] } }), 'bus')).toBeGreaterThan(14.5)
    expect(flowOf(charging({ rpm: 0, fitted: { fault: ['rectifier_diode_leaking', 200] } }), 'G2:leak')).toBeGreaterThan(0.05)
  })
})
