import { mkdtempSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { DEFAULT_METERS } from '@halfsplit/core'
import { describe, expect, test } from 'vitest'
import { runProgram } from '../program.js'
import { limitsWords } from './outcome-words.js'

const LAMP = `halfsplit: 1
machine: Work lamp of Heron
invented: true
parts:
  BAT: { kind: battery, place: box }
  F1: { kind: fuse, rating: 5 A, place: box }
  S1: { kind: switch, place: cab }
  H1: { kind: lamp, power: 10 W, place: mast }
  G1: { kind: ground, place: mast }
joins: [[BAT.plus, F1.a], [F1.b, S1.a], [S1.b, H1.feed], [H1.ground, G1.a], [G1.b, BAT.minus, frame]]
places: { box: { minutes: 1 }, cab: { minutes: 1 }, mast: { minutes: 2 } }
states: { off: { dead: true }, on: { from: off, set: { S1: on } } }
complaints:
  dark: { says: the lamp stays dark, shows: [{ in: on, at: H1.light, is: dark }] }
`
const file = join(mkdtempSync(join(tmpdir(), 'halfsplit-')), 'lamp.yaml')
writeFileSync(file, LAMP)

async function plan(...args: string[]) {
  const said = { out: '', err: '' }
  const exit = await runProgram(
    {
      out: (text) => {
        said.out += text
      },
      err: (text) => {
        said.err += text
      },
      colour: false,
      interactive: false,
      lines: async function* () {},
      now: () => '2026-03-02T08:00:00Z',
      working: () => () => undefined,
    },
    ['plan', file, ...args],
  )
  return { exit, ...said }
}

const dark = await plan('--complaint', 'dark')

describe('a printed plan', () => {
  test('has numbered steps that lead to each other, and ends in repairs', () => {
    expect(dark.exit).toBe(0)
    const numbers = [...dark.out.matchAll(/^ {1,2}(\d+) {2}/gm)].map(([, number]) => Number(number))
    expect(numbers).toEqual(numbers.map((_, i) => i + 1))
    const targets = [...dark.out.matchAll(/go to (\d+)$/gm)].map(([, number]) => Number(number))
    expect(targets.length).toBe(numbers.length - 1)
    expect(dark.out).toMatch(/cured .* done/)
  })

  test('says what it detects, isolates and costs, the bound and the blind spots', () => {
    for (const label of ['Minutes', 'Money', 'Bound', 'Detected', 'Isolated', 'Not seen', 'Not apart', 'Left out'])
      expect(dark.out).toMatch(new RegExp(`^ +${label} `, 'm'))
  })

  test('as a tree has the same steps', async () => {
    const tree = await plan('--complaint', 'dark', '--tree')
    const first = /^1 (.*) \(/m.exec(tree.out)
    expect(first?.[1]).toBeTruthy()
    expect(tree.out.split('\n').filter((line) => /^ *\d+ .* \((under )?\d+ min\)$/.test(line)).length).toBe(
      dark.out.split('\n').filter((line) => /^ {1,2}\d+ {2}/.test(line)).length,
    )
  })

  test('for a complaint the description does not have is refused with the nearest', async () => {
    const { exit, err } = await plan('--complaint', 'darc')
    expect(exit).toBe(2)
    expect(err).toContain('dark')
  })

  test('takes a whole number of steps', async () => {
    expect((await plan('--complaint', 'dark', '--steps', 'few')).exit).toBe(2)
    const { out } = await plan('--complaint', 'dark', '--steps', '1', '--json')
    expect(JSON.parse(out).steps.length).toBe(1)
  })
})

test('limits are in the steps of the meter, open at both ends where they are', () => {
  const probe = { kind: 'volts', red: 'F1.b', black: 'BAT.minus', meter: DEFAULT_METERS.volts } as const
  expect(limitsWords(probe, Number.NEGATIVE_INFINITY, 0.5)).toBe('under 0.500 V')
  expect(limitsWords(probe, 11.9, 12.6)).toBe('11.90 to 12.60 V')
  expect(limitsWords(probe, 12.6, Number.POSITIVE_INFINITY)).toBe('12.60 V or more')
  expect(limitsWords(probe, 400, Number.POSITIVE_INFINITY)).toBe('OL')
})
