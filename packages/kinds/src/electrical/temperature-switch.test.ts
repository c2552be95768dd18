import { describe, expect, test } from 'vitest'
import { coolant } from '../thermal/coolant.js'
import { Bench, type Fitted } from '../testing/bench.js'
import { atRest } from '../testing/read.js'
import { temperatureSwitch } from './temperature-switch.js'

/** Whether the switch is tripped with the liquid at a temperature, coming from tripped or not. */
function tripped(temperature: string, from: boolean, fitted: Fitted = {}): boolean {
  const bench = new Bench()
    .fit(coolant, 'C1', { liquid: 'liquid' }, { settings: { temperature } })
    .fit(temperatureSwitch, 'B1', { sense: 'liquid' }, fitted)
  return atRest(bench, { 'B1:tripped': from }).state['B1:tripped']
}

describe('temperature switch', () => {
  test.each([
    ['89 degC', false, false],
    ['91 degC', false, true],
    ['84 degC', true, true],
    ['82 degC', true, false],
  ])('that trips at 90 and resets at 83 degC, at %s coming from %s, is %s', (temperature, from, is) => {
    expect(tripped(temperature, from)).toBe(is)
  })

  test('drifted by 6 K it trips late and resets late', () => {
    const late: Fitted = { fault: ['trip_point_drifted', 6] }
    expect(tripped('95 degC', false, late)).toBe(false)
    expect(tripped('97 degC', false, late)).toBe(true)
    expect(tripped('88 degC', true, late)).toBe(false)
  })

  test('not in the liquid it feels part of the surroundings', () => {
    // A quarter of the way from 100 to 20 degC is 80 degC.
    expect(tripped('100 degC', false, { fault: ['not_in_the_liquid', 0.25] })).toBe(false)
    expect(tripped('115 degC', false, { fault: ['not_in_the_liquid', 0.25] })).toBe(true)
  })

  test('with too wide a hysteresis it does not reset', () => {
    expect(tripped('60 degC', true, { fault: ['wrong_hysteresis', 6] })).toBe(true)
  })
})
