import { readFileSync } from 'node:fs'
import { beforeAll, describe, expect, it } from 'vitest'
import { build, halfsplit, halfsplitMeanwhile, inFolder, LAMP, type Ran } from './cli.js'

const FAN = 'library/fan-drive/procedures/fan-never-stops.yaml'
const SHEETS = [
  ['library/fan-drive/fan-drive.yaml', FAN],
  ['library/starting/starting.yaml', 'library/starting/procedures/nothing-happens.yaml'],
  ['library/trailer-lights/trailer-lights.yaml', 'library/trailer-lights/procedures/left-tail-goes-out.yaml'],
]

/** Headings of the findings of a printed audit, in their order. */
const findings = ({ out }: Ran): string[] => [...out.matchAll(/^ ?\d+\. (.*) \(.*:\d+\)$/gm)].map(([, title]) => title)

let printed: Ran[]

beforeAll(async () => {
  build()
  printed = []
  for (const sheet of SHEETS) printed.push(await halfsplitMeanwhile(['audit', ...sheet, '--no-plan']))
})

describe('the sheet with the classic mistakes', () => {
  // By hand, with reasons: docs/guide/audit.md and library/fan-drive/procedures/fan-never-stops.mistakes.md.
  it('has every mistake that was written into it found, with what follows from the last, and no other', () => {
    expect(findings(printed[0])).toEqual([
      'relay_coil: proves nothing',
      'coil: limits without a temperature',
      'air: condemns a good part with "replace R1"',
      'feed: condemns a good part with "replace K7"',
      'feed: no warning',
      'clutch: a sound machine shows something else',
      'clutch: proves nothing',
      'clutch: condemns a good part with "replace SV1"',
      'clutch: condemns a good part with "overhaul CL1"',
    ])
  })

  it('names each step that has a mistake in the list beside it', () => {
    const list = readFileSync(new URL(`../../${FAN.replace('.yaml', '.mistakes.md')}`, import.meta.url), 'utf8')
    const listed = [...list.matchAll(/^\| `(\w+)` \|/gm)].map(([, step]) => step)
    expect(new Set(findings(printed[0]).map((title) => title.split(':')[0]))).toEqual(new Set(listed))
  })

  it('is told what the description computes instead', () => {
    const text = printed[0].out.replace(/\s+/g, ' ')
    expect(text).toContain('a sound machine shows released in warm')
    expect(text).toContain('In hot, at 85 degC, good parts read')
    expect(text).toMatch(/good parts read 6\d\.\d to \d\d\.\d Ohm: all of them fail/)
    expect(text).toMatch(/"replace R1".* what is needed is .*clean FL1/)
    expect(text).toContain('the fan starts by itself')
  })
})

describe('the honest sheets', () => {
  it.each([1, 2])('of %i have no mistake, end in the right repair more often than not, and call a sound machine sound', (i) => {
    expect(printed[i].exit).toBe(0)
    expect(printed[i].out).toContain('No mistake found in this sheet')
    expect(findings(printed[i])).toEqual([])
    expect(printed[i].out).toMatch(/right repair +about (2 in 3|3 in 4|5 in 6)/)
    expect(printed[i].out).toMatch(/sound machine +nothing found: all/)
  })
})

it('a sheet with a mistake of form ends the command, with the place', () => {
  const sheet = 'procedure: 1\nsteps:\n  a: { in: on, look: H1.light, expect: lit, pass: nothing found, fail: replace H1 }\n'
  const at = inFolder({ 'lamp.yaml': LAMP, 'sheet.yaml': sheet })
  const { exit, err } = halfsplit(['audit', at('lamp.yaml'), at('sheet.yaml')])
  expect(exit).toBe(1)
  expect(err).toContain('sheet.yaml:3:40: error: UNKNOWN_WORD')
  expect(err).toContain('expected one of dark, dim, bright; received "lit"')
})

it('the cost of a sheet stands beside that of the computed plan', () => {
  const sheet =
    'procedure: 1\ncomplaint: dark\nsteps:\n  a: { in: on, look: H1.light, expect: bright, pass: nothing found, fail: replace H1 }\n'
  const at = inFolder({ 'lamp.yaml': LAMP, 'sheet.yaml': sheet })
  const { exit, out } = halfsplit(['audit', at('lamp.yaml'), at('sheet.yaml')])
  expect(exit).toBe(0)
  expect(out).toMatch(/computed plan +\d+ min on average until it is mended and proved, \d+ min at worst; money \d+/)
})
