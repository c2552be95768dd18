import { Bench, repairsMade } from '@halfsplit/diagnosis'
import type { Entry, Job } from '@halfsplit/job'
import { parseSystem } from '@halfsplit/system'
import { describe, expect, test } from 'vitest'
import { openCase } from './case.js'
import { comebackJob } from './comeback.js'
import { closingDocument } from './closing-document.js'
import { Session } from './session.js'
import { standingLines } from './where-it-stands.js'

const { system } = parseSystem(
  `halfsplit: 1
machine: Work lamp of Heron
invented: true
parts:
  BAT: { kind: battery, place: box }
  S1: { kind: switch, place: cab }
  H1: { kind: lamp, power: 10 W, place: mast }
  G1: { kind: ground, place: mast, exposure: 2 }
connectors: { X1: { pins: 1, place: mast } }
joins: [[BAT.plus, S1.a], [S1.b, X1.1/a], [X1.1/b, H1.feed], [H1.ground, G1.a], [G1.b, BAT.minus, frame]]
places: { box: { minutes: 1 }, cab: { minutes: 1 }, mast: { minutes: 2, remove: guard } }
states: { off: { dead: true }, on: { from: off, set: { S1: on } } }
complaints: { dark: { says: the lamp stays dark, shows: [{ in: on, at: H1.light, is: dark }] } }
`,
  'heron.yaml',
)
if (!system) throw new Error('the description has mistakes')
const bench = new Bench(system)
const plain = { bold: (text: string) => text, dim: (text: string) => text }

const look = (word: string): Entry => ({ kind: 'look', setup: { state: 'on' }, observable: 'H1.light', word })
const volts = (point: string, value: number): Entry => ({
  kind: 'reading',
  setup: { state: 'on' },
  probe: `volts ${point} BAT.minus`,
  shown: { kind: 'value', value, unit: 'V', decimals: 2 },
})
const job = (entries: Entry[], howOften?: 'sometimes'): Job => ({
  format: 'halfsplit-job/1',
  machine: system.title,
  description: { name: system.name },
  complaint: { words: 'it stays dark', looks: [{ state: 'on', observable: 'H1.light', word: 'dark' }], howOften },
  entries,
})
const session = (...entries: Entry[]) =>
  new Session(bench, job(entries), { paint: plain, now: () => '2026-03-02T08:00:00Z', keep: () => undefined })
const shown = (one: Job): string => standingLines(openCase(bench, one), plain).join('\n')

describe('a job in the session', () => {
  test('a reading that no suspect explains is asked for again; taken again as the others expect, it is settled', () => {
    const open = session(look('dark'), volts('S1.b', 12.55), volts('X1.1/b', 12.55))
    open.answer('other volts from H1.feed to H1')
    open.answer('other 1')
    const odd = open.test?.id
    const said = open.answer('5.00 V').join('\n')
    expect(said).toMatch(/Does not fit: 4\. volts from H1\.feed .*: 5\.00 V; the others expect/)
    expect(said).toContain('Take this one again.')
    expect(open.test?.id).toBe(odd)
    expect(open.answer('12.55 V').join('\n')).not.toContain('Does not fit')
  })

  test('one suspect is spoken of with what is for and against it, in words and bits', () => {
    const said = session(look('dark')).answer('why H1').join('\n')
    expect(said).toMatch(/Replace H1 \(.+\): .* from the complaint alone/)
    expect(said).toMatch(/For +1\. look at H1: light, in on: dark; .*times likelier, (\d+ bits?|half a bit)/)
    expect(said).toMatch(/Cleared +not; /)
    expect(session(look('dark')).answer('why X9')).toEqual(['No suspect is called "X9".'])
    expect(session(look('dark')).answer('why H2').join('')).toMatch(/No suspect is called "H2"\. Nearest: .*H1/)
  })

  test('a defect met on the way is kept and told, and the job goes on', () => {
    const open = session(look('dark'))
    const before = open.state.standing.repairs
    const said = open.answer('found S1: lever bent').join('\n')
    expect(said).toMatch(/Found on the way, not the cause of the complaint\n +2 +S1: lever bent/)
    expect(open.state.standing.repairs).toEqual(before)
    expect(open.answer('found S9: lever bent').join('')).toMatch(/No part is called 'S9'.* Not kept\./)
  })

  test('repair or test on, with the break-even in words', () => {
    expect(shown(job([look('dark')]))).toMatch(
      /Break-even: (about|over) .*; now .*: (test on|repair)\. Replace|Break-even: .*: test on\. /,
    )
  })

  test('after a repair the proof is proposed step by step, and what has to be put back is listed', () => {
    const open = session(look('dark'), {
      kind: 'look',
      setup: { state: 'on', interventions: [{ do: 'unplug', target: 'X1' }] },
      observable: 'H1.light',
      word: 'dark',
    })
    const said = open.answer('repair done clean G1').join('\n')
    expect(said).toMatch(/Prove it\n +1 +Look at H1: light, in on.*good is bright/)
    expect(said).toMatch(
      /Put back, in this order\n +1 +X1 plugged in and latched \(entry 2\)\n +2 +guard back on at mast \(entry 2\)/,
    )
    expect(open.test?.id).toBe('on: look H1.light')
    expect(open.answer('bright').join('\n')).toMatch(/Done, good\.|1 good so far/)
    expect(repairsMade(open.state.standing)).toEqual(['clean G1'])
  })

  test('a proof look that is bad says so, and the search goes on', () => {
    const open = session(look('dark'))
    open.answer('repair done clean G1')
    expect(open.answer('dark').join('\n')).toContain(
      'Look at H1: light, in on was not good: the fault is still there, or another is.',
    )
  })
})

describe('honest ends', () => {
  test('nine good looks at what happens sometimes: no fault found, with what was excluded, what was not and what to note', () => {
    const said = shown(
      job(
        Array.from({ length: 9 }, () => look('bright')),
        'sometimes',
      ),
    )
    expect(said).toMatch(/No fault found\n +Looked +the complaint, 9 times good in on; hidden all that time by luck: 1 in 30/)
    expect(said).toMatch(/Excluded +.*replace H1 \(\d+ bits?\)/)
    expect(said).toMatch(/Not excluded +clean G1 \([^]*if it comes and goes/)
    expect(said).toContain('how often and how long')
    expect(
      shown(
        job(
          Array.from({ length: 8 }, () => look('bright')),
          'sometimes',
        ),
      ),
    ).not.toContain('No fault found')
  })

  test('a comeback tells what was done then and how long ago, and raises what was worked on', () => {
    const earlier = job([look('dark'), { kind: 'repair', repair: 'replace', parts: ['H1'], at: '2026-03-01T08:00:00Z' }])
    const open = openCase(bench, comebackJob(job([]), earlier, '2026-03-13T08:00:00Z', undefined))
    expect(standingLines(open, plain)[0]).toBe(
      'Comeback after 12 days: replace H1 done, 1 reading then. They say what the machine was then.',
    )
    expect(open.jobLog.complaint?.workedOn).toBe(true)
    const { comeback } = closingDocument(open)
    const factor = (fault: string) => comeback?.factors.find((one) => one.fault === fault)?.factor ?? 1
    expect(factor('G1.open')).toBeGreaterThan(10)
    expect(factor('G1.open')).toBeGreaterThan(factor('H1.filament_open'))
  })

  test('the complaint of the earlier job stands unless another is given; an age that nobody knows is asked for', () => {
    const earlier = job([look('dark')])
    const fresh = { ...job([]), complaint: { words: '' } }
    expect(comebackJob(fresh, earlier, '2026-03-13T08:00:00Z', 3)).toMatchObject({
      complaint: { words: 'it stays dark' },
      comebackOf: { ageDays: 3, entries: earlier.entries },
    })
    expect(() => comebackJob(fresh, earlier, '2026-03-13T08:00:00Z', undefined)).toThrow(/give its age in days with --days/)
    const ahead = job([{ ...look('dark'), at: '2026-04-01T00:00:00Z' }])
    expect(() => comebackJob(fresh, ahead, '2026-03-13T08:00:00Z', undefined)).toThrow(/lies .* days ahead/)
  })
})
