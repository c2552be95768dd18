import { Bench } from '@halfsplit/diagnosis'
import { JOB_FORMAT, type Job } from '@halfsplit/job'
import { parseSystem } from '@halfsplit/system'
import { describe, expect, test } from 'vitest'
import { Session } from './session.js'

/** A lamp behind its switch; invented for this test. */
const TEXT = `halfsplit: 1
machine: lamp
invented: true
parts:
  BAT: { kind: battery, voltage: 12.6 V +- 2 % }
  S1: { kind: switch }
  H1: { kind: lamp, power: 21 W +- 6 %, voltage: 12 V }
joins:
  - [BAT.plus, S1.a]
  - [S1.b, H1.feed]
  - [H1.ground, BAT.minus]
states:
  off: { dead: true }
  on: { from: off, set: { S1: on }, hazards: ["the lamp dazzles"] }
complaints:
  dark: { says: it stays dark, shows: [{ in: on, at: H1.light, is: dark }] }
`

const { system, issues } = parseSystem(TEXT, 'lamp.yaml')
if (!system) throw new Error(issues.map(({ message }) => message).join('\n'))
const bench = new Bench(system)

function session() {
  const job: Job = {
    format: JOB_FORMAT,
    machine: 'lamp',
    description: { name: 'lamp' },
    complaint: { words: 'it stays dark', looks: [{ state: 'on', observable: 'H1.light', word: 'dark' }] },
    entries: [],
  }
  const kept: Job[] = []
  const around = {
    paint: { bold: (text: string) => text } as never,
    now: () => '2026-01-01T00:00:00Z',
    keep: (one: Job) => {
      kept.push(one)
      return undefined
    },
  }
  const open = new Session(bench, job, around)
  return {
    type: (...lines: string[]) => lines.map((line) => open.answer(line).join('\n')).at(-1) ?? '',
    kept,
    show: () => open.show().join('\n'),
  }
}

describe('cautions on the card', () => {
  test('the first card tells what is there in the state; the next one in the same state does not tell it again', () => {
    const { type, show } = session()
    expect(show()).toContain('WARNING')
    expect(show()).toContain('The lamp dazzles.')
    expect(type('dark')).not.toContain('The lamp dazzles.')
  })
})

describe('ohms at points that may be live', () => {
  test('are not kept before it is proved dead, and are after that', () => {
    const { type, kept } = session()
    const card = type('dark', 'other ohms of S1', 'other 1')
    expect(card).toMatch(/Dead\? +Part apart, meter on volts first, from S1\.a and S1\.b to BAT\.minus/)
    expect(type('ol')).toMatch(/^Not kept\. Part apart/)
    expect(kept.at(-1)?.entries.length).toBe(1)
    expect(type('dead')).toMatch(/Dead\? +Proved\./)
    type('ol')
    expect(kept.at(-1)?.entries.map(({ kind }) => kind)).toEqual(['look', 'reading'])
  })

  test('that nothing but a fault can make live, as those of the lamp, are free', () => {
    const { type, kept } = session()
    expect(type('dark', 'other ohms of H1', 'other 1')).not.toContain('type "dead"')
    type('0.6')
    expect(kept.at(-1)?.entries.length).toBe(2)
  })
})
