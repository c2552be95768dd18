import { flowOf, settle } from '@halfsplit/network'
import { describe, expect, test } from 'vitest'
import type { Kind } from '../kind.js'
import { Bench, type Fitted } from '../testing/bench.js'
import { faulted } from '../testing/conditions.js'
import { across, atRest, seen } from '../testing/read.js'
import { engineCoolant } from '../thermal/engine-coolant.js'
import { radiator } from '../thermal/radiator.js'
import { thermostat } from '../thermal/thermostat.js'
import { coolantPump } from './coolant-pump.js'
import { fan } from './fan.js'

const ZERO_CELSIUS = 273.15

/** Begins to open at 74 degC, full open at 82. */
const THERMOSTAT: Fitted = { ratings: { opens: '74 degC', travel: '8 K' } }
const RELEASED = 6e5

interface Engine {
  /** Temperature of the coolant [degC]; without one it follows. */
  coolant?: number
  heat?: string
  /** Pressure at the clutch of the fan over that of the air [Pa]; nothing there without one. */
  clutch?: number
  faults?: Readonly<Record<string, Fitted['fault']>>
}

/** Engine, thermostat, radiator, pump and fan, joined as on a machine at -5 degC. */
function engine({ coolant, heat = '58 kW', clutch, faults = {} }: Engine): Bench {
  const own = (name: string, fitted: Fitted = {}): Fitted => ({ ...fitted, fault: faults[name] })
  const settings = { heat, speed: '2000 rpm', ...(coolant === undefined ? {} : { temperature: `${coolant} degC` }) }
  const bench = new Bench()
    .fit(
      engineCoolant,
      'C1',
      { outlet: 'engine', shaft: 'crank' },
      own('C1', { settings, choices: { at_rest: coolant === undefined ? 'follows' : 'imposed' } }),
    )
    .fit(coolantPump, 'P1', { shaft: 'crank', impeller: 'impeller' }, own('P1'))
    .fit(thermostat, 'Q1', { engine: 'engine', radiator: 'hose', pump: 'impeller' }, own('Q1', THERMOSTAT))
    .fit(fan, 'F1', { shaft: 'crank', blades: 'blades', clutch: 'clutch' }, own('F1'))
    .fit(radiator, 'E1', { coolant: 'hose', fan: 'blades' }, own('E1', { settings: { air: '-5 degC' } }))
  if (clutch) bench.elements.push({ type: 'across', id: 'gauge', a: 'clutch', b: 'air', value: clutch, resistance: 0 })
  return bench
}

const coolantOf = (one: Engine): number => across(atRest(engine(one)), 'engine') - ZERO_CELSIUS

/** Seconds from one coolant temperature to another [degC], by the heat the coolant takes up at each kelvin between. */
function seconds(from: number, to: number, clutch?: number): number {
  const capacity = 300e3
  const step = Math.sign(to - from)
  let time = 0
  for (let at = from + step / 2; (to - at) * step > 0; at += step) {
    time += (step * capacity) / flowOf(atRest(engine({ coolant: at, clutch })), 'C1:mass')
  }
  return time
}

describe('cooling of an engine', () => {
  test('the thermostat keeps it within its travel until the radiator gives all it can', () => {
    for (const heat of ['10 kW', '40 kW', '60 kW']) {
      expect(coolantOf({ heat })).toBeGreaterThan(74)
      expect(coolantOf({ heat })).toBeLessThan(82)
    }
    expect(coolantOf({ heat: '60 kW', clutch: RELEASED })).toBeGreaterThan(90)
  })

  test('what the engine puts in goes out through core and block', () => {
    const settled = atRest(engine({ heat: '30 kW' }))
    const out = ['E1:core', 'E1:still', 'C1:loss', 'C1:steam'].map((id) => flowOf(settled, id))
    expect(out.reduce((sum, one) => sum + one, 0)).toBeCloseTo(30e3, 3)
  })

  // System A of the project's compilation of trade practice: coolant falls from 90 to 83 degC in 2 to 4 minutes, a cycle takes 5 to 9.
  test('with its fan on and off it cycles as the fan drive does', () => {
    const [on, off] = [seconds(90, 83), seconds(83, 90, RELEASED)]
    expect(on).toBeGreaterThan(120)
    expect(on).toBeLessThan(240)
    expect(on + off).toBeGreaterThan(300)
    expect(on + off).toBeLessThan(540)
  })

  test.each([
    ['Q1', ['stuck_open', 1], -5, 70],
    ['Q1', ['stuck_shut'], 118, 125],
    ['P1', ['drive_or_coupling_broken'], 118, 125],
    ['E1', ['blocked_outside', 0.9], 118, 125],
    ['F1', ['hub_loose'], 118, 125],
    ['C1', ['low_level', 0.4], 74, 82],
  ] as const)('with %s %j under 40 kW its coolant is between %d and %d degC', (part, fault, least, most) => {
    const coolant = coolantOf({ heat: '40 kW', faults: { [part]: fault } })
    expect(coolant).toBeGreaterThan(least)
    expect(coolant).toBeLessThan(most)
  })

  test('what is screwed in and what hangs on it miss the coolant where the level is low', () => {
    const settled = atRest(engine({ coolant: 80, faults: { C1: ['low_level', 0.4] } }))
    expect(seen(settled, engineCoolant, 'C1', 'gauge', { liquid: 'C1.liquid' })).toBe('cold')
    expect(seen(settled, engineCoolant, 'C1', 'level')).toBe('low')
  })
})

describe('fan with a clutch', () => {
  const joined = { blades: 'blades' }
  test.each([
    ['with nothing at its clutch', undefined, undefined, 'goes with the pulley'],
    ['with 6 bar at its clutch', RELEASED, undefined, 'stands or idles'],
    ['whose belt slips', undefined, ['belt_slips', 0.97], 'slips'],
    ['whose hub is loose', undefined, ['hub_loose'], 'stands or idles'],
  ] as const)('%s', (_case, clutch, fault, word) => {
    const settled = atRest(engine({ coolant: 80, clutch, faults: { F1: fault } }))
    expect(seen(settled, fan, 'F1', 'turns', joined)).toBe(word)
  })

  test('turns by itself in the air of a machine that moves', () => {
    const bench = new Bench().fit(fan, 'F1', joined, { settings: { machine_speed: '6 m/s' }, fault: ['hub_loose'] })
    // 0.6 m a turn: ten turns a second.
    expect(across(atRest(bench), 'blades')).toBeCloseTo(20 * Math.PI, 1)
  })
})

const PARTS: readonly (readonly [string, Kind])[] = [
  ['C1', engineCoolant],
  ['P1', coolantPump],
  ['Q1', thermostat],
  ['F1', fan],
  ['E1', radiator],
]

test.each(PARTS)('comes to rest with every fault of %s, held and free, fan driven and released', (name, kind) => {
  const faults = [...new Map(faulted(kind).map(({ fault }) => [String(fault), fault])).values()]
  const restless = faults.flatMap((fault) =>
    [undefined, 30, 95].flatMap((coolant) =>
      [undefined, 3e5, RELEASED]
        .filter((clutch) => settle(engine({ coolant, clutch, faults: { [name]: fault } })).status !== 'settled')
        .map((clutch) => `${fault.join(' ')}, coolant ${coolant}, clutch ${clutch}`),
    ),
  )
  expect(restless).toEqual([])
})
