import { flowOf, type Settled } from '@halfsplit/network'
import { describe, expect, test } from 'vitest'
import { Bench, type Fitted } from '../testing/bench.js'
import { across, atRest, seen } from '../testing/read.js'
import { coldEngine } from '../thermal/cold-engine.js'
import { battery } from './battery.js'
import { heaterPlug } from './heater-plug.js'

const STARTED = { settings: { temperature: '-15 degC', start: 'tried' }, ratings: { heat: '370 W' } }

/** Four heater plugs on a bus bar. */
function plugs(volts: string, glow: 'begins' | 'steady', faults: readonly Fitted['fault'][] = []): Settled {
  const bench = new Bench()
    .fit(battery, 'G1', { plus: 'bar', minus: '0' }, { ratings: { voltage: volts, resistance: '0.1 mOhm', clamp: '0.01 mOhm' } })
    .fit(coldEngine, 'M1', { chamber: 'chamber' }, STARTED)
  for (const n of [0, 1, 2, 3]) {
    const fitted = { settings: { glow, temperature: '20 degC' }, fault: faults[n] }
    bench.fit(heaterPlug, `E${n}`, { feed: 'bar', body: '0', chamber: 'chamber' }, fitted)
  }
  return atRest(bench)
}

const total = (settled: Settled): number => flowOf(settled, 'G1:clamp')
const fires = (settled: Settled): string => seen(settled, coldEngine, 'M1', 'fires', {}, STARTED)

describe('heater plugs', () => {
  // System B of the project's compilation of trade practice: 60 A together at 11.2 V, falling to 44 A; 45 and 30 A with plugs open.
  test('take 60 A together at first, 44 A when they glow', () => {
    expect(Math.abs(total(plugs('11.2 V', 'begins')) - 60)).toBeLessThan(1)
    expect(Math.abs(total(plugs('11.2 V', 'steady')) - 44)).toBeLessThan(2)
  })

  test.each([
    [1, 45],
    [2, 30],
  ])('with %d open take about %d A', (count, amps) => {
    const settled = plugs('11.2 V', 'begins', Array(count).fill(['open']))
    expect(Math.abs(total(settled) - amps)).toBeLessThan(1)
  })

  test('glow at 700 to 1000 degC, and turn all their power into heat', () => {
    const settled = plugs('11.2 V', 'steady')
    const tip = across(settled, 'E0~tip') - 273.15
    expect(tip).toBeGreaterThan(700)
    expect(tip).toBeLessThan(1000)
    const power = across(settled, 'E0~terminal') * flowOf(settled, 'E0:coil')
    expect(flowOf(settled, 'E0:cooling')).toBeCloseTo(power, 3)
  })

  test('decide how a cold engine fires', () => {
    const open = (count: number): readonly Fitted['fault'][] => Array(count).fill(['open'])
    expect(fires(plugs('9.8 V', 'steady'))).toBe('starts well')
    expect(fires(plugs('9.8 V', 'steady', open(1)))).toBe('fires rough, white smoke')
    expect(fires(plugs('9.8 V', 'steady', open(3)))).toBe('does not fire')
  })

  test('shorted takes far more than its link bears', () => {
    expect(total(plugs('11.2 V', 'begins', [['short']]))).toBeGreaterThan(120)
  })
})
