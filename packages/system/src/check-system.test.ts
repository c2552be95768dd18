import { expect, it } from 'vitest'
import { checkSystem } from './index.js'

const LATCH = `halfsplit: 1
parts:
  BAT: { kind: battery, voltage: 24 V }
  S1: { kind: switch }
  S2: { kind: switch }
  K1: { kind: relay, coil: 360 Ohm, pull_in: <= 18 V, drop_out: at least 2.4 V }
joins:
  - [BAT.plus, S1.a, K1.common]
  - [S1.b, K1.coil_a, K1.work]     # once pulled in it feeds itself
  - [K1.coil_b, frame]
  - [S2.a, S2.b]
states:
  parked: { dead: true }
  pressed: { from: parked, set: { S1: on } }
  released: { from: pressed, set: { S1: off } }
`

it('a machine that rests in every state is returned with no issues', () => {
  const { system, issues } = checkSystem(LATCH, 'latch.yaml')
  expect(issues).toEqual([])
  expect(system?.states.size).toBe(3)
})

it('a state is entered by its whole way: a relay that feeds itself stays pulled in, and the state is not dead', () => {
  const { issues } = checkSystem(LATCH.replace('set: { S1: off }', 'set: { S1: off }, dead: true'), 'latch.yaml')
  expect(issues.map((one) => one.code)).toEqual(['STATE_NOT_DEAD'])
  expect(issues[0].received).toContain('from BAT')
})

it('a state that finds no rest is named with the part and its place, and the states after it are left out', () => {
  const buzzer = LATCH.replace('[S1.b, K1.coil_a, K1.work]', '[K1.rest, K1.coil_a]').replace('S1.a, K1.common', 'S1.a')
  const { system, issues } = checkSystem(buzzer.replace('- [S2.a, S2.b]', '- [S1.b, K1.common]\n  - [S2.a, S2.b]'), 'buzzer.yaml')
  expect(system).toBeUndefined()
  expect(issues.map((one) => one.code)).toEqual(['STATE_CHATTERS'])
  expect(issues[0].position?.line).toBe(15)
  expect(issues[0].related?.[0]).toMatchObject({ message: "relay 'K1' is here", position: { line: 6 } })
})

it('mistakes of the text are returned as they are', () => {
  expect(checkSystem('halfsplit: 1', 'short.yaml').issues.map((one) => one.code)).toEqual(['KEY_MISSING'])
})
