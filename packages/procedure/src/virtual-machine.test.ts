import { createRandom } from '@halfsplit/core'
import { generateTests, type TestProbe } from '@halfsplit/diagnosis'
import { type Fault, type Part, parseSystem } from '@halfsplit/system'
import { describe, expect, test } from 'vitest'
import { type Chances, VirtualMachine } from './index.js'

const { system } = parseSystem(
  `halfsplit: 1
parts:
  BAT: { kind: battery }
  F1: { kind: fuse, rating: 10 A }
  S1: { kind: switch }
  H1: { kind: lamp }
wires:
  1: { from: BAT.plus, to: F1.a }
  2: { from: F1.b, to: S1.a, length: 3 m }
  3: { from: S1.b, to: H1.feed, length: 4 m }
joins:
  - [H1.ground, frame]
tools: [multimeter]
states:
  off: { dead: true }
  on: { from: off, set: { S1: on } }
`,
  'lamp.yaml',
)
if (!system) throw new Error('no system')
const ON = { state: 'on' }
const exact: Partial<Chances> = { misread: 0, slip: 0 }
const machine = (truth: Fault[], seed: number | string = 1, chances = exact) =>
  new VirtualMachine(system, truth, createRandom(seed), chances)

type MeterProbe = Exclude<TestProbe, { kind: 'look' }>
const tests = generateTests(system)

function probe(id: string): MeterProbe {
  const found = tests.find((one) => one.id === id)?.probe
  if (!found || found.kind === 'look') throw new Error(`no reading '${id}'`)
  return found
}

/** What is shown at the lamp, in volts; over-range is infinite. */
function atLamp(one: VirtualMachine, setup = ON): number {
  const shown = one.read(setup, probe('on: volts H1.feed BAT.minus'))
  if (shown === 'unsteady') throw new Error('unsteady')
  return shown.over ? Number.POSITIVE_INFINITY : shown.value
}

function say(one: VirtualMachine, partName: string, lookName: string, setup: Parameters<VirtualMachine['look']>[0] = ON): string {
  const part = system?.parts.get(partName) as Part
  const look = part.kind.looks?.find(({ name }) => name === lookName)
  if (!look) throw new Error('no such look')
  return one.look(setup, part, look)
}

describe('one specimen', () => {
  test('is the same for the same stream, and another for another', () => {
    expect(atLamp(machine([], 7))).toBe(atLamp(machine([], 7)))
    const seen = new Set([1, 2, 3, 4, 5, 6].map((seed) => atLamp(machine([], seed))))
    expect(seen.size).toBeGreaterThan(3)
  })

  test('read again with the same meter shows the same within two steps of the display', () => {
    for (let seed = 0; seed < 30; seed += 1) {
      const one = machine([], seed)
      expect(Math.abs(atLamp(one) - atLamp(one))).toBeLessThan(0.021)
    }
  })

  test('spreads over many as supply and meter allow', () => {
    const values = Array.from({ length: 400 }, (_, seed) => atLamp(machine([], seed)))
    const mean = values.reduce((sum, value) => sum + value, 0) / values.length
    const sd = Math.sqrt(values.reduce((sum, value) => sum + (value - mean) ** 2, 0) / values.length)
    // Supply 12.6 V +- 2 % (1 % at one sd), meter +-(0.5 % + 2 counts of 10 mV) rectangular, less about 0.1 V in fuse, switch and wires.
    expect(mean).toBeGreaterThan(12.35)
    expect(mean).toBeLessThan(12.6)
    expect(sd).toBeGreaterThan(0.11)
    expect(sd).toBeLessThan(0.17)
  })
})

describe('what blows stays blown', () => {
  const short: Fault = { part: '3', mode: 'short_to_ground', severity: 0.05 }

  test('a short behind the switch takes the fuse, which stays open with the switch off', () => {
    const one = machine([short])
    expect(say(one, 'F1', 'link', { state: 'off' })).toBe('intact')
    one.use('on')
    expect(say(one, 'F1', 'link', { state: 'off' })).toBe('blown')
  })

  test('a new fuse tried or fitted blows again until the short is mended', () => {
    const one = machine([short], 3)
    one.use('on')
    expect(say(one, 'H1', 'light', { state: 'on', intervention: { do: 'swap', part: 'F1' } })).toBe('dark')
    one.repair(['replace F1'])
    expect(say(one, 'H1', 'light')).toBe('dark')
    one.repair(['replace 3', 'replace F1'])
    expect(say(one, 'H1', 'light')).toBe('bright')
  })

  test('a cracked fuse is found by trying another', () => {
    const one = machine([{ part: 'F1', mode: 'open_by_age_or_crack' }])
    expect(say(one, 'H1', 'light')).toBe('dark')
    expect(say(one, 'H1', 'light', { state: 'on', intervention: { do: 'swap', part: 'F1' } })).toBe('bright')
  })
})

describe('what comes and goes', () => {
  const loose: Fault = { part: '2', mode: 'intermittent_open' }

  test('is there in a setup as often as was said, and stays as it is until somebody touches the machine', () => {
    let dark = 0
    for (let seed = 0; seed < 400; seed += 1) {
      const one = machine([loose], seed, { ...exact, present: 0.3 })
      const first = say(one, 'H1', 'light') === 'dark'
      expect(say(one, 'H1', 'light') === 'dark').toBe(first)
      if (first) dark += 1
    }
    // Binomial, 400 of 0.3: sd 9.2.
    expect(Math.abs(dark - 120)).toBeLessThan(37)
  })
})

describe('meters and observers err as often as was said', () => {
  test('misreads may show anything', () => {
    const far = Array.from({ length: 300 }, (_, seed) => atLamp(machine([], seed, { misread: 0.2 }))).filter(
      (value) => Math.abs(value - 12.5) > 1,
    )
    // Binomial, 300 of 0.2, less the few that fall near by chance: sd 7.
    expect(Math.abs(far.length - 58)).toBeLessThan(28)
  })

  test('slips say another word', () => {
    const wrong = Array.from({ length: 300 }, (_, seed) => say(machine([], seed, { slip: 0.2 }), 'F1', 'link')).filter(
      (word) => word === 'blown',
    )
    expect(Math.abs(wrong.length - 60)).toBeLessThan(28)
  })

  test('an ohmmeter finds a good fuse and an open lamp', () => {
    const one = machine([{ part: 'H1', mode: 'filament_open' }])
    const read = (id: string) => one.read({ state: 'off' }, probe(id))
    expect(read('off + unplug F1: ohms F1 a b')).toMatchObject({ over: false })
    expect(read('off + unplug H1: ohms H1 feed ground')).toMatchObject({ over: true })
  })
})

test('a fault the machine can not have is refused', () => {
  expect(() => machine([{ part: 'H1', mode: 'melted' }]).repair(['replace H1'])).toThrow(RangeError)
})
