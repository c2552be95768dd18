import { type HazardStanding, generateTests, Machine, safeToMove, type Setup, type Test } from '@halfsplit/diagnosis'
import { parseSystem } from '@halfsplit/system'
import { describe, expect, test } from 'vitest'
import { adviceFor, cautionText, moveWords } from './cautions.js'

/** A winch motor behind a guard and a contactor; invented for this test. */
const TEXT = `halfsplit: 1
machine: winch
invented: true
parts:
  BAT: { kind: battery, voltage: 12.6 V +- 2 % }
  S0: { kind: switch }
  S1: { kind: switch, guards: a hand under the hood }
  K1: { kind: contactor, coil: 14 Ohm +- 8 %, pull_in: <= 8 V }
  M1: { kind: motor, voltage: 12 V, current: 100 A, winding: 20 mOhm }
  H1: { kind: lamp, power: 21 W +- 6 %, voltage: 12 V }
wires:
  1: { from: BAT.plus, to: S0.a, length: 1 m, size: 2.5 mm2 }
  2: { from: S0.b, to: S1.a, length: 1 m, size: 1.5 mm2 }
  3: { from: S1.b, to: K1.coil_a, length: 1 m, size: 1.5 mm2 }
  4: { from: BAT.plus, to: K1.in, length: 1 m, size: 25 mm2 }
  5: { from: K1.out, to: M1.feed, length: 1 m, size: 25 mm2 }
joins:
  - [S0.b, H1.feed]
  - [BAT.minus, K1.coil_b, M1.ground, H1.ground]
states:
  off: { dead: true }
  key: { from: off, set: { S0: on }, hazards: ["the lamp dazzles"] }
  pull: { from: key, set: { S1: on }, hazards: ["the rope is tight"] }
`

const { system, issues } = parseSystem(TEXT, 'winch.yaml')
if (!system) throw new Error(issues.map(({ message }) => message).join('\n'))
const bench = { system, machine: new Machine(system) }
const sound: HazardStanding = {
  hypotheses: [{ id: 'nothing wrong', faults: [], absent: false, weight: 1 }],
  sized: [{ hypothesis: 0, faults: [], stretches: [], weight: 1 }],
  belief: { probability: Float64Array.of(1), cellProbability: Float64Array.of(1) },
  actions: [],
  groups: [],
  complaint: undefined,
}

const tests = generateTests(system)
const testIn = (setup: Setup): Test => ({ ...tests[0], setup })
const from = { setup: { state: 'key' }, places: [] }
const advice = (setup: Setup) => adviceFor(bench, sound, testIn(setup), from)
const lines = (setup: Setup) => advice(setup).cautions.map((one) => `${one.signal}  ${cautionText(one)}`)

describe('cautions in the form of the standard', () => {
  test('a jumper that by-passes a guard and burns says so, worst first, each with hazard, consequence and avoidance', () => {
    expect(lines({ state: 'key', intervention: { do: 'jumper', from: 'K1.in', to: 'K1.out' } })).toEqual([
      'DANGER  The jumper would carry 93 A; the lead bears a fuse of 20 A. It melts and burns. Do not bridge this.',
      'DANGER  K1 is live. A tool across it melts and burns. Its studs carry hundreds of amperes and are live with everything off: negative clamp off first.',
      'WARNING  S1 is by-passed. Nothing guards against a hand under the hood. Make sure by eye, with a second person; take the jumper off at once.',
      'CAUTION  M1 starts to turn. It catches hands, sleeves and leads. Keep hands out while it can get a feed.',
    ])
  })

  test('a jumper that is allowed has its fuse', () => {
    const { fuse, cautions } = advice({ state: 'key', intervention: { do: 'jumper', from: 'S1.a', to: 'S1.b' } })
    // With the motor running the battery is down at 11.9 V; over 14 Ohm that is 0.85 A, four fifths of 1.06 A.
    expect(fuse).toBe('2 A in the jumper: 0.85 A flow in a sound machine.')
    expect(cautions[0].hazard).toBe('S1 is bridged.')
  })

  test('only what is new is told: the words of the state he stands in are not', () => {
    expect(lines({ state: 'key' })).toEqual([])
    expect(lines({ state: 'pull' })).toContain('WARNING  The rope is tight.')
    expect(adviceFor(bench, sound, testIn({ state: 'key' })).cautions.map(cautionText)).toContain('The lamp dazzles.')
  })

  test('ohms where the points may be live wait for a word, elsewhere are reminded', () => {
    const ohms = (part: string) => tests.find(({ probe }) => probe.kind === 'ohms' && probe.part === part) as Test
    const words = (part: string, proved = false) => adviceFor(bench, sound, ohms(part), from, proved).dead
    expect(words('S0')).toMatch(
      /^Part apart, meter on volts first, from S0\.a and S0\.b to BAT\.minus: under 0\.1 V each\. .*type "dead"/,
    )
    expect(words('S0', true)).toBe('Proved.')
    expect(words('H1')).not.toContain('type "dead"')
  })
})

test('whether to move it is never said to be safe, and left to manual, rules and a licensed person', () => {
  const words = moveWords(safeToMove(bench, sound))
  expect(words[0]).toContain('not known')
  expect(words.at(-1)).toMatch(/maker's manual, local rules and a licensed person decide/)
})
