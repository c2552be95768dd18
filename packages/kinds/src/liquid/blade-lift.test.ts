import { STANDARD_ATMOSPHERE } from '@halfsplit/core'
import { flowOf, type Instant, march, probeValue, type Settled } from '@halfsplit/network'
import { describe, expect, test } from 'vitest'
import { battery } from '../electrical/battery.js'
import { contactor } from '../electrical/contactor.js'
import { manualSwitch } from '../electrical/switch.js'
import { Bench, type Fitted } from '../testing/bench.js'
import { across, atRest, seen } from '../testing/read.js'
import { accumulator } from './accumulator.js'
import { angleCylinder } from './angle-cylinder.js'
import { checkValve } from './check-valve.js'
import { hydraulicValve22 } from './hydraulic-valve-2-2.js'
import { hydraulicValve43 } from './hydraulic-valve-4-3.js'
import { liftCylinder } from './lift-cylinder.js'
import { powerPack } from './power-pack.js'
import { reliefValve } from './relief-valve.js'
import { stopCock } from './stop-cock.js'
import { throttle } from './throttle.js'

interface Lift {
  /** Switches that are pressed. */
  pressed?: readonly ('raise' | 'lower' | 'left' | 'right')[]
  position?: string
  load?: string
  cock?: 'open' | 'shut'
  out?: string
  faults?: Readonly<Record<string, Fitted['fault']>>
}

const JOINED = { oil: 'cylinder' }

/** System F of the project's compilation of trade practice, its wiring cut short: 6 kN on a cylinder of 50 mm by 250 mm, 175 bar. */
function lift({ pressed = [], position = '50 %', load = '6 kN', cock = 'open', out = '0.25 l', faults = {} }: Lift): Bench {
  const own = (name: string, fitted: Fitted = {}): Fitted => ({ ...fitted, fault: faults[name] })
  const key = (name: string): Fitted => ({ settings: { position: pressed.some((one) => one === name) ? 'on' : 'off' } })
  const wires = { left_coil_a: 'left', left_coil_b: '0', right_coil_a: 'right', right_coil_b: '0' }
  return new Bench()
    .fit(battery, 'G1', { plus: 'plus', minus: '0' }, { settings: { engine: 'running' } })
    .fit(manualSwitch, 'S1', { a: 'plus', b: 'raise' }, key('raise'))
    .fit(manualSwitch, 'S2', { a: 'plus', b: 'lower' }, key('lower'))
    .fit(manualSwitch, 'S3', { a: 'plus', b: 'left' }, key('left'))
    .fit(manualSwitch, 'S4', { a: 'plus', b: 'right' }, key('right'))
    .fit(contactor, 'K4', { coil_a: 'raise', coil_b: '0', in: 'plus', out: 'motor' }, own('K4'))
    .fit(powerPack, 'PP1', { feed: 'motor', ground: '0', pressure: 'p', tank: 't' }, own('PP1', { settings: { out } }))
    .fit(reliefValve, 'RV1', { in: 'p', tank: 't' }, own('RV1'))
    .fit(checkValve, 'CV2', { in: 'p', out: 'held' }, own('CV2'))
    .fit(hydraulicValve22, 'SV2', { coil_a: 'lower', coil_b: '0', supply: 'held', delivery: 'let' }, own('SV2'))
    .fit(throttle, 'TH1', { a: 'let', b: 't' }, own('TH1', { ratings: { drop: '28 bar' } }))
    .fit(stopCock, 'CK1', { a: 'held', b: 'cylinder' }, { settings: { position: cock } })
    .fit(liftCylinder, 'LC1', JOINED, own('LC1', { settings: { position, load } }))
    .fit(hydraulicValve43, 'SV3', { ...wires, pressure: 'p', tank: 't', a: 'a', b: 'b' }, own('SV3'))
    .fit(angleCylinder, 'AC1', { a: 'a', b: 'b' }, own('AC1'))
}

const rest = (of: Lift): Settled => atRest(lift(of))
const bar = (settled: Settled, node: string): number => (across(settled, node) - STANDARD_ATMOSPHERE) / 1e5
const amps = (settled: Settled): number => flowOf(settled, 'PP1:leads')
const moves = (settled: Settled): string => seen(settled, liftCylinder, 'LC1', 'load', JOINED)
const drift = (settled: Settled): string => seen(settled, liftCylinder, 'LC1', 'drift', JOINED)
const swing = (settled: Settled): string => seen(settled, angleCylinder, 'AC1', 'swing', { a: 'a', b: 'b' })

describe('a blade lift at rest in what a state imposes', () => {
  test('holds 6 kN at 30.6 bar, lifts it and lets it down', () => {
    // System F: blade load 6.0 kN, 30.6 bar holding; at half stroke half a bar more.
    expect(bar(rest({}), 'cylinder')).toBeCloseTo(30.6 + 0.5, 1)
    expect([moves(rest({})), drift(rest({}))]).toEqual(['holds', 'under 4'])
    expect(moves(rest({ pressed: ['raise'] }))).toBe('rises')
    expect(moves(rest({ pressed: ['lower'] }))).toBe('lowers')
  })

  test('takes about 190 A at its relief valve, and at most that of a cold oil without pressure', () => {
    // System F: power pack motor 190 A at 170 bar, 70 A light; relief 175 +- 5 bar.
    const stalled = rest({ pressed: ['raise'], position: '100 %' })
    expect(bar(stalled, 'p')).toBeGreaterThan(174)
    expect(bar(stalled, 'p')).toBeLessThan(182)
    expect(amps(stalled)).toBeGreaterThan(180)
    expect(amps(stalled)).toBeLessThan(205)
    expect(amps(rest({ pressed: ['raise'], faults: { PP1: ['drive_or_coupling_broken'] } }))).toBeLessThan(80)
  })

  test.each([
    ['SV2', 'leaks_internally', '15 to 60', 'under 4'],
    ['LC1', 'leaks_past_piston', '15 to 60', '15 to 60'],
  ])('%s that %s, 60 ml/min at 30 bar, lets it sink %s mm a minute, and %s with the cock shut', (part, mode, open, shut) => {
    // System F: SV2 dirt, drift 30 mm/min = 59 ml/min.
    const faults = { [part]: [mode, 1e-6] as const }
    expect(drift(rest({ faults }))).toBe(open)
    expect(drift(rest({ faults, cock: 'shut' }))).toBe(shut)
    expect(flowOf(rest({ faults }), 'LC1:stroke') * 6e7).toBeCloseTo(-61, -1)
  })

  test('with its check valve leaking sinks as the standing pump lets oil by, and has pressure at the pump', () => {
    const settled = rest({ faults: { CV2: ['leaks_back', 1e-6] } })
    expect(drift(settled)).toBe('15 to 60')
    expect(bar(settled, 'p')).toBeGreaterThan(5)
    expect(bar(rest({ faults: { SV2: ['leaks_internally', 1e-6] } }), 'p')).toBeLessThan(1)
  })

  test('with its relief valve down to 70 bar lifts the blade, but not with snow', () => {
    // System F: relief dirt, stalls at 70 bar: lifts blade, not with snow. 20 kN are 102 bar.
    const faults = { RV1: ['set_point_drifted', -105e5] as const }
    expect(moves(rest({ pressed: ['raise'], faults }))).toBe('rises')
    expect(moves(rest({ pressed: ['raise'], faults, load: '20 kN' }))).toBe('holds')
    expect(moves(rest({ pressed: ['raise'], load: '20 kN' }))).toBe('rises')
  })

  test('with two litres of oil missing stops two thirds up', () => {
    // System F: oil low by 2 l, stops two thirds up.
    const faults = { PP1: ['level_low', 2e-3] as const }
    const at = (position: string, out: string) => rest({ pressed: ['raise'], position, out, faults })
    expect(moves(at('60 %', '0.29 l'))).toBe('rises')
    expect(moves(at('75 %', '0.37 l'))).toBe('holds')
    expect(seen(at('75 %', '0.37 l'), powerPack, 'PP1', 'pump')).toBe('growls')
  })

  test('whose pump jams takes what blows a fuse of 200 A', () => {
    expect(amps(rest({ pressed: ['raise'], faults: { PP1: ['jammed_or_impeller_blocked'] } }))).toBeGreaterThan(300)
  })

  test('that binds more than its load is lifted by more pressure and does not come down', () => {
    const faults = { LC1: ['binds', 40e5] as const }
    expect(moves(rest({ pressed: ['lower'], faults }))).toBe('holds')
    expect(bar(rest({ pressed: ['raise'], faults }), 'cylinder')).toBeCloseTo(71, 0)
  })

  test('whose contact is welded goes on pumping', () => {
    expect(moves(rest({ faults: { K4: ['contacts_welded'] } }))).toBe('rises')
  })

  test.each([
    ['left', undefined, 'swings left'],
    ['right', undefined, 'swings right'],
    ['left', ['wrong_valve_or_ports_swapped'], 'swings right'],
    ['right', ['sticks_left'], 'swings left'],
    ['left', ['sticks_centred'], 'stands'],
    ['left', ['left_coil_open'], 'stands'],
  ] as const)('with %s pressed and its spool valve in %j %s', (side, fault, word) => {
    expect(swing(rest({ pressed: ['raise', side], faults: { SV3: fault } }))).toBe(word)
  })
})

describe('a blade lift over time', () => {
  const stroke = (instant: Instant) => probeValue(instant, { across: { 'LC1~piston': 1 } }) / 1e5
  const run = (of: Lift, until: number, samples: readonly number[]) => march([{ from: 0, network: lift(of) }], { until, samples })

  test('rises from end to end in six to eight seconds and then stands at its relief valve', () => {
    const { status, samples } = run({ pressed: ['raise'], position: '1 %', out: '0 l' }, 12, [5, 8, 12])
    expect(status).toBe('done')
    expect(stroke(samples[0])).toBeLessThan(1)
    expect(stroke(samples[1])).toBeGreaterThan(1)
    expect((probeValue(samples[2], { across: { p: 1 } }) - STANDARD_ATMOSPHERE) / 1e5).toBeGreaterThan(174)
  })

  test('comes down in about six seconds, by its weight', () => {
    // System F: lower, SV2 on, by weight, throttle 6 s.
    const { status, samples } = run({ pressed: ['lower'], position: '99 %' }, 8, [5, 7])
    expect(status).toBe('done')
    expect(stroke(samples[0])).toBeGreaterThan(0)
    expect(stroke(samples[1])).toBeLessThan(0.02)
  })

  test('sinks 30 mm in a minute with dirt on the seat that leaks 60 ml/min', () => {
    const { samples } = run({ faults: { SV2: ['leaks_internally', 1e-6] } }, 60, [0, 60])
    const millimetres = 250 * (stroke(samples[0]) - stroke(samples[1]))
    expect(millimetres).toBeGreaterThan(28)
    expect(millimetres).toBeLessThan(34)
  })

  test('short of oil comes to a stop on the way up', () => {
    const faults = { PP1: ['level_low', 2e-3] as const }
    const { samples, events } = run({ pressed: ['raise'], position: '1 %', out: '0 l', faults }, 15, [15])
    expect(events.some(({ signal, on }) => signal === 'PP1:uncovered' && on)).toBe(true)
    expect(stroke(samples[0])).toBeGreaterThan(0.6)
    expect(stroke(samples[0])).toBeLessThan(0.75)
  })
})

test('an accumulator of 0.75 l at 60 bar gives back what it took from 180 to 120 bar, by the gas law', () => {
  // p V^n constant with n = 1.2: 0.75 l ((60/120)^(1/1.2) - (60/180)^(1/1.2)) = 120.8 ml; pressures absolute.
  const bench = new Bench()
    .fit(accumulator, 'C1', { oil: 'oil' }, { ratings: { precharge: '60 bar abs' }, settings: { pressure: '180 bar abs' } })
    .fit(throttle, 'TH1', { a: 'oil', b: 'open' }, { ratings: { flow: '1 l/min', drop: '100 bar' } })
  bench.elements.push({ type: 'across', id: 'open', a: 'open', b: '0', value: STANDARD_ATMOSPHERE, resistance: 0 })
  const samples = Array.from({ length: 200 }, (_, i) => i / 10)
  const { samples: seenAt } = march([{ from: 0, network: bench }], { until: 20, samples })
  let volume = 0
  for (const one of seenAt) {
    if (probeValue(one, { across: { oil: 1 } }) < 120e5) break
    volume += 0.1 * probeValue(one, { through: 'TH1:opening' })
  }
  expect(volume * 1e6).toBeGreaterThan(117)
  expect(volume * 1e6).toBeLessThan(126)
})
