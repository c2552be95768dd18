import { printIssue } from '@halfsplit/core'
import { describe, expect, test } from 'vitest'
import { type Job, JOB_ISSUE_CODES, parseJob, serialiseJob } from './index.js'

const job: Job = {
  format: 'halfsplit-job/1',
  machine: 'snow vehicle 3',
  description: { name: 'fan-drive' },
  complaint: { words: 'fan runs all the time', looks: [{ state: 'warm', observable: 'FAN.turns', word: 'turns' }] },
  entries: [
    {
      kind: 'reading',
      setup: { state: 'key on' },
      probe: 'X12.3 to battery minus',
      shown: { kind: 'value', value: 11.9, unit: 'V', decimals: 2 },
    },
    { kind: 'could-not', test: 'gauge at fitting F2', why: 'seized' },
    { kind: 'undo', entry: 2 },
  ],
}

/** The issues of a job text, printed: first lines only. */
const firstLines = (text: string) => parseJob(text, 'a.json').issues.map((issue) => printIssue(issue).split('\n')[0])

test('a stored job reopens unchanged', () => {
  expect(parseJob(serialiseJob(job)).job).toEqual(job)
})

test('the text does not depend on the order in which keys were set', () => {
  const turned = Object.fromEntries(Object.entries(job).reverse()) as unknown as Job
  expect(serialiseJob(turned)).toBe(serialiseJob(job))
})

describe('mistakes are found with their place', () => {
  const lines = serialiseJob(job).split('\n')
  const changed = (from: string, to: string) => serialiseJob(job).replace(from, to)
  const lineOf = (part: string) => lines.findIndex((line) => line.includes(part)) + 1

  test.each([
    ['JOB_NOT_JSON', '', 'a.json:1:1'],
    ['JOB_NOT_JSON', '{"format": "halfsplit-job/1",}', 'a.json:1:30'],
    ['JOB_NOT_JSON', '{\n  "machine": tractor\n}', 'a.json:2:14'],
    ['JOB_NOT_JSON', `${'['.repeat(100_000)}`, 'a.json:1:'],
    ['JOB_NOT_JSON', '{"machine": "a\u0000b"}', 'a.json:1:13'],
    ['JOB_TOO_LARGE', ' '.repeat(2_000_001), 'a.json:1:1'],
    ['JOB_VALUE_WRONG', '[]', 'a.json:1:1'],
    ['JOB_VALUE_WRONG', 'null', 'a.json:1:1'],
    ['JOB_FORMAT_UNKNOWN', changed('halfsplit-job/1', 'halfsplit-job/9'), `a.json:${lineOf('"format"')}:13`],
    ['JOB_KEY_UNKNOWN', changed('"machine"', '"machina"'), `a.json:${lineOf('"machine"')}:14`],
    ['JOB_KEY_UNKNOWN', changed('"machine":', '"__proto__":'), `a.json:${lineOf('"machine"')}:`],
    ['JOB_VALUE_WRONG', changed('11.9', '"11.9"'), `a.json:${lineOf('11.9')}:`],
    ['JOB_VALUE_WRONG', changed('"kind": "could-not"', '"kind": "couldnot"'), `a.json:${lineOf('could-not')}:15`],
    ['JOB_UNDO_WRONG', changed('"entry": 2', '"entry": 3'), `a.json:${lineOf('"entry"')}:16`],
    [
      'JOB_INTERVAL_REVERSED',
      changed('"kind": "value",', '"kind": "interval", "low": 3, "high": 2,')
        .replace('"value": 11.9,', '')
        .replace(/,\s*"decimals": 2/, ''),
      'a.json:',
    ],
  ])('%s', (code, text, place) => {
    expect(firstLines(text).some((line) => line.startsWith(place) && line.includes(` ${code}: `))).toBe(true)
  })

  test('all of a file at once', () => {
    const text = changed('11.9', 'true').replace('"entry": 2', '"entry": 0').replace('"machine"', '"machina"')
    expect(parseJob(text).issues.length).toBeGreaterThanOrEqual(4)
  })

  test('a wrong key brings the nearest ones', () => {
    expect(parseJob(changed('"probe"', '"prob"')).issues.find(({ code }) => code === 'JOB_KEY_UNKNOWN')?.nearest).toContain(
      'probe',
    )
  })

  test('a wrong kind brings the nearest ones', () => {
    expect(parseJob(changed('could-not', 'couldnot')).issues[0].nearest).toContain('could-not')
  })

  test('every code has a meaning and a remedy', () => {
    expect(Object.values(JOB_ISSUE_CODES).every(({ meaning, remedy }) => meaning !== '' && remedy !== '')).toBe(true)
  })
})

test('an earlier job is read with the same care, and its mistakes have their places', () => {
  const comebackOf = { ageDays: 12, complaint: { words: 'as before' }, entries: [{ kind: 'undo' as const, entry: 2 }] }
  const text = serialiseJob({ ...job, comebackOf })
  const [line, ...more] = firstLines(text)
  expect(line).toMatch(/^a\.json:\d+:\d+: error: JOB_UNDO_WRONG/)
  expect(more).toEqual([])
  const at = text.split('\n').findIndex((one) => one.includes('"entry": 2')) + 1
  expect(line).toContain(`a.json:${at}:`)
})
