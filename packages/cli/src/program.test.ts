import { existsSync, mkdtempSync, readFileSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { describe, expect, it } from 'vitest'
import { runProgram } from './program.js'

const folder = mkdtempSync(join(tmpdir(), 'halfsplit-'))
const at = (name: string): string => join(folder, name)

/** A lamp on a battery by way of a plug: small enough to be worked out in a moment. */
const LAMP = `halfsplit: 1
machine: Work lamp of Heron
invented: true
parts:
  BAT: { kind: battery, place: box }
  F1: { kind: fuse, rating: 5 A, place: box }
  S1: { kind: switch, place: cab }
  H1: { kind: lamp, power: 10 W, place: mast }
  G1: { kind: ground, place: mast, exposure: 2 }
connectors: { X1: { pins: 1, place: mast } }
wires: { 1: { from: BAT.plus, to: F1.a }, 2: { from: F1.b, to: S1.a, length: 3 m }, 3: { from: S1.b, to: X1.1/a, length: 4 m } }
joins: [[X1.1/b, H1.feed], [H1.ground, G1.a], [G1.b, BAT.minus, frame]]
places: { box: { minutes: 1 }, cab: { minutes: 1 }, mast: { minutes: 2, about: up the ladder, remove: guard } }
states: { off: { dead: true }, on: { from: off, set: { S1: on }, about: lamp switched on, hazards: [the glass is hot] } }
complaints:
  dark: { says: the lamp stays dark, shows: [{ in: on, at: H1.light, is: dark }] }
`
writeFileSync(at('lamp.yaml'), LAMP)

/** Somebody at a terminal who types these lines. */
async function typed(args: readonly string[], lines: readonly string[]) {
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
      interactive: true,
      lines: async function* (prompt) {
        for (const line of lines) {
          said.out += `${prompt()}${line}\n`
          yield line
        }
        said.out += prompt()
      },
      now: () => '2026-03-02T08:00:00Z',
      working: () => () => undefined,
    },
    args,
  )
  return { exit, ...said }
}

const isolate = (...lines: string[]) => typed(['isolate', at('lamp.yaml'), '--complaint', 'dark'], lines)

describe('a job at a terminal', () => {
  it('asks what the owner says, in his words or by number', async () => {
    const { out } = await typed(['isolate', at('lamp.yaml')], ['it does not light up any more', '1', 'quit'])
    expect(out).toContain('1  the lamp stays dark')
    expect(out).toContain('Kept in his words. Which of the list is nearest?')
    expect(out).toContain('Suspects on Work lamp of Heron')
  })

  it('shows leads, state, caution, reason and what each suspect would show, healthy machine included', async () => {
    const { out, exit } = await isolate('dark', 'quit')
    expect(exit).toBe(0)
    expect(out).toMatch(/Next {2}look at H1: light, in on\n {2}Leads +no tool: H1 \(mast\)/)
    expect(out).toContain('on: lamp switched on')
    expect(out).toContain('The glass is hot.')
    expect(out.match(/The maker's manual and local rules come first\./g)).toHaveLength(1)
    expect(out).toMatch(/healthy machine +bright/)
    expect(out).toMatch(/not on this drawing +anything/)
  })

  it('uses no word of statistics and keeps values with their units', async () => {
    const { out } = await isolate('dark', 'other', 'other F1.b', 'other 1', 'why', 'quit')
    expect(out).not.toMatch(/probabilit|posterior|prior|likelihood|confidence|deciban|entropy|\bbits?\b|%/i)
    expect(out).toMatch(/\d to \d+(\.\d+)? m?V/)
  })

  it('says what a reading speaks for and against', async () => {
    const { out } = await isolate('dark', 'other volts from H1.feed', 'other 1', '12.4 V', 'ol', 'quit')
    expect(out).toMatch(/For: .*\(\d+(\.\d+)? times likelier\)/)
    expect(out).toMatch(/Against: .*times less likely/)
    expect(out).toContain('No suspect reads this here. Check meter and points, or it is not on this drawing.')
  })

  it('takes back the last entry and names it', async () => {
    const { out } = await isolate('dark', 'undo', 'quit')
    expect(out).toContain('Taken back: H1 light dark.')
    expect(out.slice(out.indexOf('Taken back'))).toContain('See the complaint first')
  })

  it('leaves out what could not be done, and what is skipped for now', async () => {
    const { out } = await isolate('could not, no ladder', 'skip', 'quit')
    const after = out.slice(out.indexOf('Left out in this job.'))
    expect(after).not.toContain('Next  look at H1: light, in on')
    expect(after.match(/Next {2}.*/g)?.[0]).not.toBe(after.match(/Next {2}.*/g)?.[1])
  })

  it('takes what was done to the machine, and a repair', async () => {
    const { out } = await isolate('dark', 're-seated X1', 'repair done replace H1', 'quit')
    expect(out).toContain('Replace H1 is done. Now prove it: the complaint must be gone.')
  })

  it('offers the nearest where a word is not known', async () => {
    const { out } = await isolate('drak', 'other F2', 'repair done replace H2', 'unplugged X2', '12 bar', 'quit')
    expect(out).toContain('This look reads 1 dark, 2 dim, 3 bright. "drak" is none of them.')
    expect(out).toMatch(/No test speaks of "F2"\. Nearest: .*F1/)
    expect(out).toMatch(/No repair is called "replace H2"\. Nearest: .*replace H1/)
    expect(out).toMatch(/No part is called 'X2'\. Nearest: .*X1.* Not kept\./)
  })

  it('keeps the job at every entry and goes on with it', async () => {
    const job = at('kept.json')
    await typed(['isolate', at('lamp.yaml'), '--complaint', 'dark', '--save', job], ['dark'])
    expect(JSON.parse(readFileSync(job, 'utf8')).entries).toHaveLength(1)
    const { out } = await typed(['isolate', at('lamp.yaml'), '--job', job], ['why', 'undo', 'quit'])
    expect(out).toContain('1. look at H1: light, in on: dark')
    expect(JSON.parse(readFileSync(job, 'utf8')).entries).toHaveLength(2)
    expect(existsSync(`${job}.part`)).toBe(false)
    const lost = await isolate('dark', `save ${at('nowhere')}/x.json`, 'undo', 'quit')
    expect(lost.out).toMatch(/Not kept: cannot write .*x\.json: there is no such file\. Type save and another file\./)
    expect(lost.out).toContain('Taken back: H1 light dark.')
    const again = await typed(['isolate', at('lamp.yaml'), '--complaint', 'dark', '--save', job], [])
    expect(again).toMatchObject({ exit: 2, err: expect.stringContaining('is already there') })
  })
})

it('a test that cannot tell says so, and why, and what to do instead', async () => {
  const { out } = await isolate('dark', 'other look at F1: link', 'other 1', 'quit')
  expect(out).toMatch(/Cannot tell {2}Every suspect still believed shows much the same: intact\. Do this instead: volts from/)
})

it('a mistake of our own ends with its code and no stack', async () => {
  const io = {
    out: () => undefined,
    err: (text: string) => said.push(text),
    colour: false,
    interactive: false,
    lines: async function* () {},
    now: () => '',
    working: () => {
      throw new TypeError('no such thing')
    },
  }
  const said: string[] = []
  expect(await runProgram(io, ['demo'])).toBe(70)
  expect(said).toEqual(['halfsplit: a mistake of the program itself: no such thing\n'])
})
