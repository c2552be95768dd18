import { type Display, display } from '@halfsplit/core'
import { parseSystem, type System } from '@halfsplit/system'
import { Bench } from '../bench.js'
import type { LogItem } from '../evidence.js'
import type { FaultMode } from '../faults.js'
import type { Test } from '../tests.js'

/** A lamp behind a relay, with a plug, a diode and a harness of three wires: small, and invented for tests. */
const TEXT = `halfsplit: 1
machine: lamp behind a relay
invented: true
parts:
  BAT: { kind: battery, voltage: 12.6 V +- 2 % }
  F1: { kind: fuse, rating: 10 A, place: box }
  S1: { kind: switch, place: cab }
  K1: { kind: relay, coil: 90 Ohm +- 10 %, pull_in: <= 8 V, drop_out: ">= 1.2 V", place: box }
  D1: { kind: diode, place: box }
  E1: { kind: lamp, power: 21 W +- 6 %, voltage: 12 V, place: roof }
  G1: { kind: ground, place: roof }
connectors:
  X1: { pins: 3, place: box }
wires:
  1: { from: F1.b, to: S1.a, length: 2 m, size: 1.5 mm2, harness: cab, place: cab }
  2: { from: S1.b, to: X1.1/a, length: 2 m, size: 1.5 mm2, harness: cab, place: cab }
  3: { from: F1.b, to: X1.2/a, length: 1 m, size: 1.5 mm2, harness: cab, place: cab }
  4: { from: K1.work, to: E1.feed, length: 4 m, size: 1.5 mm2, place: roof }
joins:
  - [BAT.plus, F1.a]
  - [X1.1/b, K1.coil_a, D1.cathode]
  - [X1.2/b, K1.common]
  - [K1.coil_b, D1.anode, X1.3/b]
  - [X1.3/a, E1.ground, G1.a]
  - [G1.b, BAT.minus]
places:
  box: { minutes: 2 }
  cab: { minutes: 1 }
  roof: { minutes: 5 }
states:
  off: { dead: true }
  key: { from: off, minutes: 1 }
  on: { from: key, set: { S1: on }, minutes: 0.5 }
  warm: { from: key, minutes: 10 }
complaints:
  dark: { says: the lamp stays dark, shows: [{ in: on, at: E1.light, is: dark }] }
`

function parsed(): System {
  const { system, issues } = parseSystem(TEXT, 'relay-lamp.yaml')
  if (!system) throw new Error(issues.map(({ message }) => message).join('\n'))
  return system
}

export const system = parsed()
export const bench = new Bench(system)
export const complaint = { shows: system.complaints[0].shows }

export function faultNamed(id: string): FaultMode {
  const found = bench.faults.find((one) => one.id === id)
  if (!found) throw new Error(`no fault '${id}'`)
  return found
}

export function testNamed(id: string): Test {
  const found = bench.tests.find((one) => one.id === id)
  if (!found) throw new Error(`no test '${id}'`)
  return found
}

/** A reading as a display shows this value [SI]. */
export function reading(id: string, value: number): Extract<LogItem, { kind: 'taken' }> {
  const { setup, probe } = testNamed(id)
  if (probe.kind === 'look') throw new Error(`'${id}' is no reading`)
  const shown: Display = display(probe.meter, value)
  if (shown.over) throw new Error('over-range')
  const { resolution } = shown.range
  const outcome = { kind: 'number', value: shown.value, halfWidth: resolution / 2 } as const
  return { kind: 'taken', taken: { setup, probe, outcome, range: shown.range } }
}

export function seen(id: string, word: string): Extract<LogItem, { kind: 'taken' }> {
  const { setup, probe } = testNamed(id)
  if (probe.kind !== 'look') throw new Error(`'${id}' is no look`)
  const { words } = probe.look
  const at = words.indexOf(word)
  if (at < 0) throw new Error(`'${id}' is never '${word}'`)
  return { kind: 'taken', taken: { setup, probe, outcome: { kind: 'word', word: at, words: words.length } } }
}
