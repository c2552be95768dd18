import type { Entry } from '@halfsplit/job'
import { parseSystem } from '@halfsplit/system'
import { expect, test } from 'vitest'
import { refitList } from './refit.js'

const { system } = parseSystem(
  `halfsplit: 1
machine: lamp under a floor
invented: true
parts:
  BAT: { kind: battery, voltage: 12.6 V }
  S1: { kind: switch, place: cab }
  E1: { kind: lamp, power: 21 W, voltage: 12 V, place: roof }
connectors:
  X1: { pins: 1, place: floor }
joins:
  - [BAT.plus, S1.a]
  - [S1.b, X1.1/a]
  - [X1.1/b, E1.feed]
  - [E1.ground, BAT.minus]
places:
  cab: { minutes: 1 }
  floor: { minutes: 6, remove: floor plate }
  roof: { minutes: 5, remove: lamp glass }
states:
  on: { set: { S1: on } }
`,
  'lamp.yaml',
)
if (!system) throw new Error('the description has mistakes')

const look = (...interventions: { do: 'unplug' | 'jumper' | 'swap'; target: string }[]): Entry => ({
  kind: 'look',
  setup: { state: 'on', ...(interventions.length > 0 ? { interventions } : {}) },
  observable: 'E1.light',
  word: 'dark',
})
const listOf = (...entries: Entry[]) =>
  refitList(system, { entries }).map(
    ({ kind, target, cover, entry, putBack }) => `${entry} ${kind} ${cover ?? target}${putBack ? ' (back)' : ''}`,
  )

test('what was undone last goes back first, a cover after what lies behind it', () => {
  expect(
    listOf(look({ do: 'unplug', target: 'X1' }), look({ do: 'jumper', target: 'S1.a S1.b' }), {
      kind: 'repair',
      repair: 'renew',
      parts: ['X1.1'],
    }),
  ).toEqual(['2 jumper S1.a S1.b', '1 plug X1 (back)', '1 cover floor plate'])
  // A lamp is seen at a glance; to try another one its glass comes off.
  expect(listOf(look({ do: 'swap', target: 'E1' }))).toEqual(['1 old part E1', '1 cover lamp glass'])
})

test('a plug unplugged by an action stays open until it is plugged in', () => {
  expect(listOf({ kind: 'action', do: 'unplug', target: 'X1' })).toContain('1 plug X1')
  expect(listOf({ kind: 'action', do: 'unplug', target: 'X1' }, { kind: 'action', do: 'plug-in', target: 'X1' })).toContain(
    '1 plug X1 (back)',
  )
})

test('a line opened for a gauge is on the list', () => {
  const shown = { kind: 'value', value: 7, unit: 'bar' } as const
  expect(listOf({ kind: 'reading', setup: { state: 'on' }, probe: 'pressure S1.a', shown })).toContain('1 line S1.a')
})

test('what was taken back does not count', () => {
  expect(listOf(look({ do: 'swap', target: 'E1' }), { kind: 'undo', entry: 1 })).toEqual([])
})

test('a job that undid nothing has nothing to refit', () => {
  expect(listOf({ kind: 'could-not', test: 'on: look E1.light' }, { kind: 'found', text: 'mirror cracked' })).toEqual([])
})
