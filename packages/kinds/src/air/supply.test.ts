import { STANDARD_ATMOSPHERE } from '@halfsplit/core'
import { type Instant, march, type MarchOptions, probeValue, type Settled } from '@halfsplit/network'
import { describe, expect, test } from 'vitest'
import { battery } from '../electrical/battery.js'
import { resistor } from '../electrical/resistor.js'
import { Bench, type Fitted } from '../testing/bench.js'
import { across, atRest, seen } from '../testing/read.js'
import { airCheckValve } from './air-check-valve.js'
import { airDryer } from './air-dryer.js'
import { airTank } from './air-tank.js'
import { compressor } from './compressor.js'
import { governor } from './governor.js'
import { hose } from './hose.js'
import { pressureGauge } from './pressure-gauge.js'
import { protectionValve } from './protection-valve.js'
import { safetyValve } from './safety-valve.js'
import { supplyTank } from './supply-tank.js'

interface Air {
  /** Pressure of the first tank, as its gauge shows. */
  wet: string
  speed?: string
  temperature?: string
  /** Volts at the heater of the dryer. */
  volts?: string
  faults?: Readonly<Record<string, Fitted['fault']>>
}

const DRYER = { in: 'head', out: 'dry', control: 'control', feed: 'feed', ground: '0' }
const WET = { ratings: { volume: '15 l', share: '20 %' } }

/** System E of the project's compilation of trade practice: 160 l/min at 1000 rpm, 15 + 25 + 25 + 10 l, governor at 6.9 and 8.3 bar. */
function supply({ wet, speed = '1000 rpm', temperature = '20 degC', volts = '27.6 V', faults = {} }: Air): Bench {
  const own = (name: string, fitted: Fitted = {}): Fitted => ({ ...fitted, fault: faults[name] })
  const circuits = { supply: 'wet', circuit_1: 't1', circuit_2: 't2', circuit_3: 't3' }
  return new Bench()
    .fit(battery, 'G1', { plus: 'plus', minus: '0' }, { ratings: { voltage: volts } })
    .fit(resistor, 'R1', { a: 'plus', b: 'feed' }, { ratings: { resistance: '0.1 Ohm' } })
    .fit(compressor, 'CP1', { discharge: 'head', unloader: 'control' }, own('CP1', { settings: { speed } }))
    .fit(airDryer, 'AD1', DRYER, own('AD1', { settings: { temperature } }))
    .fit(airCheckValve, 'CV1', { in: 'dry', out: 'wet' }, own('CV1'))
    .fit(supplyTank, 'WET', { air: 'wet' }, own('WET', { ...WET, settings: { pressure: wet } }))
    .fit(hose, 'A3', { a: 'wet', b: 'sense' }, own('A3'))
    .fit(governor, 'GV1', { reservoir: 'sense', control: 'control' }, own('GV1'))
    .fit(safetyValve, 'SF1', { air: 'wet' }, own('SF1'))
    .fit(protectionValve, 'PV1', circuits, own('PV1'))
    .fit(airTank, 'T1', { air: 't1' }, own('T1'))
    .fit(airTank, 'T2', { air: 't2' }, own('T2'))
    .fit(airTank, 'T3', { air: 't3' }, own('T3', { ratings: { volume: '10 l' } }))
    .fit(pressureGauge, 'GA1', { air: 't1' }, own('GA1'))
}

/** At rest after the governor has been through these pressures of the first tank. */
function after(through: readonly string[], air: Omit<Air, 'wet'> = {}): Settled {
  let settled: Settled | undefined
  for (const wet of through) settled = atRest(supply({ ...air, wet }), settled?.state)
  return settled as Settled
}

const bar = (settled: Settled, node: string): number => (across(settled, node) - STANDARD_ATMOSPHERE) / 1e5
const needle = (settled: Settled): string => seen(settled, supplyTank, 'WET', 'needle', { air: 'wet' }, WET)
const work = (settled: Settled): string => seen(settled, compressor, 'CP1', 'work')
const purge = (settled: Settled): string => seen(settled, airDryer, 'AD1', 'purge', DRYER)

describe('an air supply at rest in what a state imposes', () => {
  test.each([
    [['4 bar'], 'pumps', 'shut', 'rises'],
    [['4 bar', '8.8 bar'], 'does not pump', 'open', 'holds'],
    [['4 bar', '8.8 bar', '7.7 bar'], 'does not pump', 'open', 'holds'],
    [['4 bar', '7.7 bar'], 'pumps', 'shut', 'rises'],
    [['4 bar', '8.8 bar', '6.4 bar'], 'pumps', 'shut', 'rises'],
  ])('taken through %j %s, its purge valve is %s, its needle %s', (through, works, valve, moves) => {
    const settled = after(through)
    expect([work(settled), purge(settled), needle(settled)]).toEqual([works, valve, moves])
  })

  test('with its purge valve frozen open does not come to three bar', () => {
    // System E: purge valve iced open, never passes 3 bar, blows.
    const faults = { AD1: ['purge_valve_stuck_open'] as const }
    const settled = after(['1 bar', '3 bar'], { faults })
    expect(bar(settled, 'head')).toBeLessThan(3)
    expect(bar(settled, 'head')).toBeGreaterThan(2)
    expect(needle(settled)).toBe('holds')
  })

  test('with its check valve leaking loses air after a purge and none before', () => {
    const faults = { CV1: ['leaks_back', 0.03] as const }
    expect(needle(after(['4 bar', '8.8 bar', '7.7 bar'], { faults, speed: '0 rpm' }))).toBe('falls')
    expect(needle(after(['7.7 bar'], { faults, speed: '0 rpm' }))).toBe('holds')
  })

  test('with its unloader leaking falls fast as soon as it has cut out', () => {
    const faults = { CP1: ['unloader_leaks', 3e-9] as const }
    expect(needle(after(['4 bar'], { faults }))).toBe('rises')
    expect(needle(after(['4 bar', '8.8 bar'], { faults }))).toBe('falls fast')
  })

  test('with the line to its governor blocked runs on, until the safety valve blows at ten and a half', () => {
    // System E: line to governor blocked, runs to 10.5, safety blows.
    const faults = { A3: ['restricted', 1] as const }
    expect(work(after(['8.8 bar'], { faults }))).toBe('pumps')
    const blow = (wet: string) => seen(after([wet], { faults }), safetyValve, 'SF1', 'blow')
    expect([blow('10.3 bar'), blow('10.7 bar')]).toEqual(['quiet', 'hisses'])
  })

  test.each([
    ['-10 degC', '27.6 V', undefined, 'shut'],
    ['-10 degC', '0 V', undefined, 'open'],
    ['-10 degC', '27.6 V', ['heater_open'], 'open'],
    ['-10 degC', '27.6 V', ['thermostat_stays_open'], 'open'],
    ['4 degC', '0 V', undefined, 'shut'],
  ] as const)('at %s with %s at its heater (%j) the purge valve is %s', (temperature, volts, fault, valve) => {
    expect(purge(after(['4 bar'], { temperature, volts, faults: { AD1: fault } }))).toBe(valve)
  })

  test('a leak of 4 l/min of free air takes 2 psi a minute off 30 l', () => {
    // Trap P15 of the project's compilation of trade practice: 2 psi/min in 30 l is about 4 l/min.
    const flow = (2 * 6894.76) / 60
    const c = 4e-3 / 60 / (8e5 + STANDARD_ATMOSPHERE)
    const bench = new Bench().fit(
      supplyTank,
      'WET',
      { air: 'wet' },
      {
        ratings: { volume: '30 l' },
        settings: { pressure: '8 bar' },
        fault: ['leaks_outside', c],
      },
    )
    const scale = supplyTank.looks?.[0].quantity({ value: (of: string) => (of === 'volume' ? 0.03 : 1) } as never)
    const moved = probeValue(atRest(bench), { through: 'WET:volume' }) * (scale as { scale: number }).scale
    expect(Math.abs(moved)).toBeGreaterThan(0.9 * flow)
    expect(Math.abs(moved)).toBeLessThan(1.1 * flow)
  })

  test('a broken third circuit leaves what is in the others when the first tank is empty', () => {
    const faults = { T3: ['leaks_outside', 1e-9] as const }
    const full = after(['4 bar', '7.6 bar'], { faults })
    const bench = supply({ wet: '0 bar', faults })
    const kept = bench.nodes.map((node) => ({ ...node, rest: node.id === 'air' ? node.rest : across(full, node.id) }))
    const settled = atRest(Object.assign(bench, { nodes: kept }), full.state)
    expect(bar(settled, 't1')).toBeCloseTo(7.6, 2)
    expect(bar(settled, 't3')).toBeCloseTo(0, 2)
    expect(seen(settled, pressureGauge, 'GA1', 'dial', { air: 't1' })).toBe('7 to 8')
  })

  test('a gauge that reads 0.4 bar high is told from a test gauge', () => {
    const faults = { GA1: ['reads_wrong', 0.4e5] as const }
    const settled = after(['4 bar', '7.7 bar'], { faults })
    expect(seen(settled, pressureGauge, 'GA1', 'dial', { air: 't1' })).toBe('8 to 9')
    expect(seen(settled, pressureGauge, 'GA1', 'agrees', { air: 't1' })).toBe('reads high')
  })
})

describe('an air supply over time', () => {
  const run = (air: Air, options: MarchOptions) => march([{ from: 0, network: supply(air) }], options)
  const at = (instant: Instant, node: string) => (probeValue(instant, { across: { [node]: 1 } }) - STANDARD_ATMOSPHERE) / 1e5

  test('comes from nothing to its cut-out in about four minutes, purges for seconds and then holds', () => {
    // System E: 0 to 8.3 bar in about 4 min at 1000 rpm; purge 5 to 10 s; then less than 0.1 bar in 10 min.
    const { status, events, samples } = run({ wet: '0 bar' }, { until: 900, samples: [300, 900] })
    expect(status).toBe('done')
    const cutOut = events.find(({ signal, on }) => signal === 'GV1:tripped' && on)?.time as number
    expect(cutOut).toBeGreaterThan(210)
    expect(cutOut).toBeLessThan(270)
    expect(events.filter(({ signal }) => signal === 'GV1:tripped')).toHaveLength(1)
    expect(at(samples[0], 't3')).toBeGreaterThan(8.2)
    expect(at(samples[0], 'head')).toBeLessThan(0.1)
    expect(Math.abs(at(samples[0], 'wet') - at(samples[1], 'wet'))).toBeLessThan(0.1)
  })

  test('with an unloader that leaks cuts in and out by itself', () => {
    const faults = { CP1: ['unloader_leaks', 3e-9] as const }
    const { status, period } = run({ wet: '8 bar', faults }, { until: 900, stopWhenPeriodic: true })
    expect(status).toBe('periodic')
    expect(period?.signals).toContain('GV1:tripped')
  })

  test('in frost its thermostat keeps the dryer between its two temperatures', () => {
    const { status, highest, last } = run({ wet: '4 bar', speed: '0 rpm', temperature: '-10 degC' }, { until: 3600 })
    expect(status).toBe('done')
    expect(highest['AD1~body'] - 273.15).toBeLessThan(26)
    expect(probeValue(last, { across: { 'AD1~body': 1 } }) - 273.15).toBeGreaterThan(6)
  })
})

describe('a tank filled by its compressor', () => {
  /** Seconds from empty to a gauge pressure [Pa]. */
  const fill = (state: string, gauge: number): number => {
    const bench = new Bench()
      .fit(compressor, 'CP1', { discharge: 'tank', unloader: 'idle' }, { settings: { speed: '1000 rpm' } })
      .fit(
        supplyTank,
        'WET',
        { air: 'tank' },
        { ratings: { volume: '30 l' }, choices: { state }, settings: { pressure: '0 bar' } },
      )
    const level = STANDARD_ATMOSPHERE + gauge
    bench.signals.push({ type: 'threshold', id: 'there', a: 'tank', b: '0', scale: 1, rise: level, fall: level - 1e4 })
    const { events } = march([{ from: 0, network: bench }], { until: 600 })
    return events.find(({ signal, on }) => signal === 'there' && on)?.time ?? Number.NaN
  }

  // Perfect gas: V (p - p0)/p0 of free air at constant temperature; V ((p/p0)^(1/n) - 1) if it warms by a polytropic change.
  test.each([
    ['isothermal', 1],
    ['polytropic', 1.3],
  ] as const)('%s takes as long as its free air', (state, n) => {
    const ratio = (STANDARD_ATMOSPHERE + 6e5) / STANDARD_ATMOSPHERE
    const capacity = 0.03 / (287 * 293.15)
    const mass = capacity * STANDARD_ATMOSPHERE * (ratio ** (1 / n) - 1)
    expect(fill(state, 6e5)).toBeCloseTo(mass / ((0.16 / 60) * 1.185), 1)
  })
})
