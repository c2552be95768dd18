import { flowOf } from '@halfsplit/network'
import { describe, expect, test } from 'vitest'
import { thermistorResistance } from '../physics/thermistor.js'
import { Bench, type Fitted } from '../testing/bench.js'
import { across, atRest } from '../testing/read.js'
import { coolant } from '../thermal/coolant.js'
import { battery } from './battery.js'
import { ntcSender } from './ntc-sender.js'

/** Ohms of a sender in coolant at a temperature [degC]. */
function ohms(celsius: number, fitted: Fitted = {}): number {
  const bench = new Bench()
    .fit(battery, 'G1', { plus: 'plus', minus: '0' }, { ratings: { voltage: '5 V' } })
    .fit(coolant, 'C1', { liquid: 'liquid' }, { settings: { temperature: `${celsius} degC` } })
    .fit(ntcSender, 'B1', { a: 'plus', b: '0', sense: 'liquid' }, fitted)
  const settled = atRest(bench)
  return across(settled, 'plus') / (flowOf(settled, 'B1:bead') + flowOf(settled, 'B1:shorted'))
}

describe('temperature sender', () => {
  // System B of the project's compilation of trade practice: 2.5 kohm at 20 degC, 0.32 kohm at 80.
  test('has the resistances of its curve', () => {
    expect(ohms(20)).toBeCloseTo(2500, 1)
    expect(Math.abs(ohms(80) / 320 - 1)).toBeLessThan(0.01)
  })

  test('keeps within 2.5 % of the beta law from -30 to 110 degC', () => {
    const beta = 3550
    const r25 = 2500 / thermistorResistance({ r25: 1, beta }, 293.15)
    for (const celsius of [-30, -15, 0, 20, 50, 80, 110]) {
      const law = thermistorResistance({ r25, beta }, celsius + 273.15)
      expect(Math.abs(ohms(celsius) / law - 1), `${celsius} degC`).toBeLessThan(0.025)
    }
  })

  test('that has drifted reads so much more, open and shorted the ends', () => {
    expect(ohms(20, { fault: ['drifted', 0.3] })).toBeCloseTo(3250, 0)
    expect(ohms(20, { fault: ['open'] })).toBeGreaterThan(1e6)
    expect(ohms(20, { fault: ['short'] })).toBeLessThan(1)
  })
})
