import { mkdtempSync, readFileSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { parseSystem, Realiser, type System } from '@halfsplit/system'
import { describe, expect, it } from 'vitest'
import { runProgram } from '../program.js'
import { type MachineRun, runMachine } from './machine-run.js'
import { remarksOf } from './remarks.js'
import { requestOf } from './request.js'

const folder = mkdtempSync(join(tmpdir(), 'halfsplit-'))
const at = (name: string): string => join(folder, name)

/** A tank that a drain valve empties, a low-pressure alarm with a delay, and a lamp at a temperature switch; psi and degF in part. */
const ALARM = `halfsplit: 1
machine: Air alarm of Heron
invented: true
parts:
  BAT: { kind: battery, place: box }
  F1: { kind: fuse, rating: 5 A, place: box }
  S1: { kind: switch, place: cab }
  TANK: { kind: supply-tank, volume: 20 l, place: mast }
  SV1: { kind: solenoid-valve-3-2, coil: 30 Ohm +- 8 %, pull_in: <= 8 V, drop_out: ">= 1 V", passage: 0.03 l/(s.bar), place: mast }
  P1: { kind: pressure-switch, action: opens_rising, trip: 75 psi +- 2 psi, reset: 60 psi +- 2 psi, place: mast }
  K1: { kind: relay, place: box }
  T1: { kind: delay-module, delay: 10 s +- 10 %, place: box }
  H1: { kind: lamp, power: 10 W, place: cab }
  COOL: { kind: coolant, place: mast }
  B1: { kind: temperature-switch, trip: 194 degF +- 4 K, reset: 182 degF +- 4 K, place: mast }
  H2: { kind: lamp, power: 10 W, place: cab }
joins:
  - [BAT.plus, F1.a]
  - [F1.b, P1.a, K1.common, T1.feed, B1.a, S1.a]
  - [S1.b, SV1.coil_a]
  - [P1.b, K1.coil_a]
  - [K1.work, T1.input]
  - [T1.output, H1.feed]
  - [B1.b, H2.feed]
  - [TANK.air, P1.pressure, SV1.delivery]
  - [COOL.liquid, B1.sense]
  - [SV1.coil_b, K1.coil_b, T1.ground, H1.ground, H2.ground, BAT.minus, frame]
places: { box: { minutes: 1 }, cab: { minutes: 1 }, mast: { minutes: 2 } }
states:
  shut: { about: drain valve shut and tank full, set: { S1: on, TANK.pressure: 8 bar, COOL.temperature: 20 degC } }
  warm: { from: shut, set: { COOL.temperature: 188 degF } }
  hot: { from: warm, set: { COOL.temperature: 210 degF } }
  cooling: { from: hot, set: { COOL.temperature: 188 degF } }
complaints: { dark: { says: the alarm stays dark, shows: [{ in: cooling, at: H2.light, is: dark }] } }
scenarios:
  drain:
    about: the drain valve opens and the coolant warms
    from: shut
    for: 10 min
    drive:
      S1: { 30 s: off }
      COOL.temperature: { 1 min: 20 degC, 6 min: to 210 degF, 9 min: to 120 degF }
    watch: [TANK.air, SV1.coil_a to SV1.coil_b, into H1.feed, COOL.liquid, H1.light]
  bare: { from: shut, for: 1 min }
`
writeFileSync(at('alarm.yaml'), ALARM)

async function halfsplit(...args: string[]) {
  const said = { out: '', err: '' }
  const io = {
    out: (text: string) => void (said.out += text),
    err: (text: string) => void (said.err += text),
    colour: false,
    interactive: false,
    lines: async function* () {},
    now: () => '2026-03-02T08:00:00Z',
    working: () => () => undefined,
  }
  return { exit: await runProgram(io, args), ...said }
}
const run = (...args: string[]) => halfsplit('run', at('alarm.yaml'), '--scenario', 'drain', ...args)

/** Events of the first machine told, one a line. */
const events = (out: string) => out.split('\n').filter((line) => /^ {2}\d.* (s|min): /.test(line))

describe('a run of a healthy machine', () => {
  it('tells what happens when, in the trade words and in the units of the description', async () => {
    const { out, exit } = await run()
    expect(exit).toBe(0)
    expect(events(out)).toEqual([
      '  30 s: S1 off, SV1 lets go',
      '  1 min: COOL goes evenly to 210 degF (98.9 degC) by 6 min',
      `  ${closing()}: B1 closes at 194 degF (90 degC), H2 light: bright`,
      '  6 min: COOL goes evenly to 120 degF (48.9 degC) by 9 min',
      '  7 min 4 s: B1 opens at 182 degF (83.3 degC), H2 light: dark',
      expect.stringMatching(
        /^ {2}8 min \d+ s: P1 closes at 60 psi \(4\.14 bar\), K1 pulls in; 10 s later T1 times out, H1 light: bright$/,
      ),
    ])
    expect(out).toMatch(/TANK\.air +116 psi \(8 bar\)/)
    expect(out).toMatch(/What is seen is timed to within 0\.013 s/)
  })

  it('ends when asked to', async () => {
    const { out } = await run('--for', '2 min')
    expect(events(out)).toHaveLength(2)
    expect(out).toContain('2 min from shut')
  })
})

/** B1 closes at 90 degC on the way from 20 degC at 60 s to 210 degF at 360 s; its disc comes 8 s behind the coolant. */
function closing(): string {
  const seconds = Math.round(60 + (300 * 70) / ((210 - 32) / 1.8 - 20) + 8)
  return `${Math.floor(seconds / 60)} min ${seconds % 60} s`
}

describe('a run with faults', () => {
  it('lays the healthy machine under them and points out where they part', async () => {
    const { out } = await run('--fault', 'SV1.sticks_operated', '--fault', 'B1.trip_point_drifted@5 K')
    expect(out).toContain('With SV1 sticks, does not go back.')
    expect(out).toContain('With B1 trip point drifted, 5 K.')
    const [before, parting] = out.split('Where they part')
    expect(before).toContain('30 s: S1 off, SV1 lets go, the valve sticks')
    expect(before).toMatch(/B1 closes at 203 degF \(95 degC\)/)
    expect(parting).toMatch(/SV1 lets go +healthy at 30 s +with the fault at 30 s: SV1 lets go, the valve sticks/)
    expect(parting).toMatch(/B1 closes +healthy at 5 min \d+ s +with the fault at 5 min 53 s/)
    expect(parting).toMatch(/P1 closes +healthy at 8 min \d+ s +with the fault never/)
  })

  it('takes the middle of the sizes where none is given, and says so', async () => {
    const { out } = await run('--fault', 'K1.socket_contact')
    expect(out).toMatch(/With K1 weak socket contact, [\d.]+ k?Ohm \(middle of its range\)\./)
  })

  it('says what is different from the very start', async () => {
    const { out } = await run('--fault', 'S1.open')
    expect(out).toMatch(/SV1 pulls in +healthy before the start +with the fault never/)
  })

  it('says it when nothing is different', async () => {
    const { out } = await run('--for', '20 s', '--fault', 'H1.filament_open')
    expect(out).toContain('Nowhere: what happens is the same, and at the same times.')
  })

  it('lets what comes and goes come and go as the seed has it', async () => {
    const first = await run('--fault', 'T1.cracked_joint')
    expect(first.out).toMatch(/T1 fails, T1 goes dead/)
    expect(first.out).toMatch(/T1 is well again, T1 comes alive/)
    expect((await run('--fault', 'T1.cracked_joint')).out).toBe(first.out)
    expect((await run('--fault', 'T1.cracked_joint', '--seed', 'tuesday')).out).not.toBe(first.out)
  })

  it('blows a fuse that is too small for what is switched on, and goes on without it', async () => {
    writeFileSync(at('small.yaml'), ALARM.replace('rating: 5 A', 'rating: 0.4 A'))
    const { out } = await halfsplit('run', at('small.yaml'), '--scenario', 'drain')
    // 0.71 A where 0.6 A open it: the square of 1.18 takes about 3.6 s to what 1 would take in 5 s.
    expect(out.replace(/\s+/g, ' ')).toMatch(
      /B1 closes at [^;]*, H2 light: bright; 3\.\d s later F1 opens for good: more flows than it can bear, [^;]*H2 light: dark/,
    )
    expect(out).not.toContain('P1 closes at 60 psi (4.14 bar), K1 pulls in')
  })
})

describe('what is written', () => {
  it('a table has a row for each time and both machines beside each other', async () => {
    await run('--every', '30 s', '--fault', 'SV1.sticks_operated', '--csv', at('drain.csv'))
    const rows = readFileSync(at('drain.csv'), 'utf8').split('\r\n')
    expect(rows[0]).toBe(
      'time [s],TANK.air [psi],TANK.air healthy [psi],SV1.coil_a to SV1.coil_b [V],SV1.coil_a to SV1.coil_b healthy [V],into H1.feed [A],into H1.feed healthy [A],COOL.liquid [degF],COOL.liquid healthy [degF],H1.light,H1.light healthy',
    )
    expect(rows).toHaveLength(23)
    expect(rows[1]).toMatch(/^0,116\.03,116\.03,.*,dark,dark$/)
    expect(rows[21]).toMatch(/^600,116\.03,5\d\.\d+,.*,dark,bright$/)
  })

  it('a chart has a panel for each quantity and look, and the events', async () => {
    await run('--fault', 'SV1.sticks_operated', '--chart', at('drain.svg'))
    const svg = readFileSync(at('drain.svg'), 'utf8').replace(/\u00a0/g, ' ')
    for (const words of [
      'pressure, psi',
      'voltage, V',
      'current, A',
      'temperature, degF',
      'H1, light',
      '30 s: S1 off, SV1 lets go',
    ])
      expect(svg).toContain(words)
  })

  it('what is watched may be named', async () => {
    const { out } = await run('--watch', 'B1.sense,H2.light')
    expect(out).toMatch(/B1\.sense +68 degF \(20 degC\)/)
    expect(out).toMatch(/H2\.light +dark +dark and bright +dark/)
  })
})

describe('wrong use', () => {
  it.each([
    [['--fault', 'K1.coil'], 'no fault is called "K1.coil"'],
    [['--fault', 'K9.coil_open'], 'no part is called "K9"'],
    [['--fault', 'K1.coil_open@3 Ohm'], 'K1.coil_open has no size'],
    [['--fault', 'K1.socket_contact@3 V'], 'size of K1.socket_contact'],
    [['--fault', 'K1.coil_open', '--fault', 'K1.socket_contact'], 'K1 is given two'],
    [['--watch', 'TANK.ar'], 'nearest: "TANK.air"'],
    [['--for', '10'], '--for: the number has no unit'],
    [['--for', '0 s'], '--for: expected a time above zero'],
    [['--every', '1 us'], 'more than a million rows'],
  ])('%j is told', async (args, words) => {
    const { exit, err, out } = await run(...args)
    expect({ exit, out }).toEqual({ exit: 2, out: '' })
    expect(err).toContain(words)
  })

  it('an unknown scenario, and one that watches nothing for a table', async () => {
    expect((await halfsplit('run', at('alarm.yaml'), '--scenario', 'drian')).err).toContain('nearest: "drain"')
    const { exit, err } = await halfsplit('run', at('alarm.yaml'), '--scenario', 'bare', '--csv', at('x.csv'))
    expect({ exit, err }).toMatchObject({ exit: 2, err: expect.stringContaining('watches nothing') })
    expect((await run('--csv', at('no/such/folder.csv'))).exit).toBe(4)
  })
})

describe('machines that do not come to rest', () => {
  const described = (name: string, text: string) => {
    writeFileSync(at(name), `halfsplit: 1\n${text}`)
    return (...args: string[]) => halfsplit('run', at(name), '--scenario', 's', ...args)
  }

  it('a buzzer chatters, with how often', async () => {
    const buzz = described(
      'buzz.yaml',
      `parts: { BAT: { kind: battery }, S1: { kind: switch }, K1: { kind: relay } }
joins: [[BAT.plus, S1.a], [S1.b, K1.common], [K1.rest, K1.coil_a], [K1.coil_b, BAT.minus, frame]]
states: { off: { dead: true }, on: { from: off, set: { S1: on } } }
scenarios: { s: { from: off, for: 1 min, drive: { S1: { 10 s: on } }, watch: [K1.coil_a] }, t: { from: on, for: 1 min } }
`,
    )
    const { out, exit } = await buzz('--csv', at('buzz.csv'))
    expect(exit).toBe(0)
    expect(out).toContain('K1 chatters from 10 s on: about 100 times a second. No numbers after that.')
    expect(readFileSync(at('buzz.csv'), 'utf8').trimEnd().split('\r\n').at(-1)).toBe('60,')
    const stuck = await halfsplit('run', at('buzz.yaml'), '--scenario', 't')
    expect(stuck).toMatchObject({ exit: 3, err: expect.stringContaining('no rest in state "on" (chatters)') })
  })

  it('one that repeats itself says since when and how often', async () => {
    const flash = described(
      'flash.yaml',
      `parts: { BAT: { kind: battery }, S1: { kind: switch }, K1: { kind: relay }, T1: { kind: delay-module, type: TOF, delay: 10 s } }
joins: [[BAT.plus, S1.a, T1.feed], [S1.b, K1.common], [K1.rest, T1.input], [T1.output, K1.coil_a], [T1.ground, K1.coil_b, BAT.minus, frame]]
states: { off: {} }
scenarios: { s: { from: off, for: 5 min, drive: { S1: { 10 s: on } } } }
`,
    )
    const { out, exit } = await flash()
    expect(exit).toBe(0)
    expect(out).toMatch(/It repeats itself every 10 s from \d+ s on \(/)
  })

  it('a switch that came near to its level is told, in its unit', () => {
    const { system } = parseSystem(ALARM, 'alarm.yaml') as { system: System }
    const request = requestOf(system, { scenario: 'drain', fault: [], seed: '1' })
    const whole = runMachine(request, new Realiser(system), [], () => undefined) as MachineRun
    const grazes = [
      { time: 200, signal: 'B1:tripped', overdrive: -0.4 },
      { time: 320, signal: 'B1:tripped', overdrive: -0.2 },
      { time: 500, signal: 'K1:pulled', overdrive: -0.01 },
    ]
    const remarks = remarksOf(system, { ...whole, march: { ...whole.march, grazes } })
    expect(remarks).toEqual([
      'B1 came within 0.2 K of its trip point at 5 min 20 s and did not switch.',
      'K1 came near to this: pulls in, at 8 min 20 s.',
    ])
  })
})

describe('readings that are taken too early', () => {
  it('are caught by readings, as text and as data', async () => {
    const { out } = await halfsplit('readings', at('alarm.yaml'), '--state', 'warm')
    const said = out.replace(/\s+/g, ' ')
    expect(said).toContain(
      'B1 lies between 182 degF (83.3 degC) and 194 degF (90 degC): it is open because it came up from below',
    )
    expect(said).toContain('Come down from above 194 degF (90 degC) it would be closed, and the reading would not count.')
    const json = JSON.parse((await halfsplit('readings', at('alarm.yaml'), '--state', 'cooling', '--json')).out)
    expect(json.counting).toMatchObject([{ because: 'side', part: 'B1', is: 'closed', from: 'above', since: 'hot' }])
  })

  it('are caught by isolate, with the test', async () => {
    const small = `halfsplit: 1
parts: { BAT: { kind: battery }, COOL: { kind: coolant }, B1: { kind: temperature-switch }, H2: { kind: lamp } }
joins: [[BAT.plus, B1.a], [B1.b, H2.feed], [H2.ground, BAT.minus, frame], [COOL.liquid, B1.sense]]
states: { hot: { set: { COOL.temperature: 98 degC } }, cooling: { from: hot, set: { COOL.temperature: 86 degC } } }
complaints: { dark: { says: it stays dark, shows: [{ in: cooling, at: H2.light, is: dark }] } }
`
    writeFileSync(at('small-switch.yaml'), small)
    const { out } = await halfsplit('isolate', at('small-switch.yaml'), '--complaint', 'dark')
    expect(out.replace(/\s+/g, ' ')).toContain(
      'Counts B1 lies between 83 degC and 90 degC: it is closed because it came down from above 90 degC, last in hot.',
    )
  })
})
