import { readdirSync, readFileSync } from 'node:fs'
import { ISSUE_CODES, type Issue, printIssue } from '@halfsplit/core'
import { type Kind, KINDS } from '@halfsplit/kinds'
import { checkSystem } from '@halfsplit/system'
import { describe, expect, it } from 'vitest'

const folder = new URL('./', import.meta.url)
const files = readdirSync(folder).filter((name) => name.endsWith('.yaml'))
const read = (name: string) => readFileSync(new URL(name, folder), 'utf8')
const found = (issues: readonly Issue[]) => issues.map(({ code, position }) => `${code} ${position?.line}:${position?.column}`)

const GOOD = `halfsplit: 1
parts:
  BAT: { kind: battery }
  H1: { kind: lamp }
wires:
  1: { from: BAT.plus, to: H1.feed }
joins:
  - [H1.ground, frame]
states:
  on: { about: lamp lit }
`

/** A part with a rating that has no usual value, and no value at all once it is switched on. */
const odd: Kind = {
  ...(KINDS.get('load') as Kind),
  name: 'odd',
  ratings: { power: { dimension: 'power', about: 'of the load' } },
  settings: { position: { about: 'on or off', words: ['off', 'on'], default: 'off' } },
  build(part, make) {
    const g = part.setting('position') === 'on' ? Number.NaN : part.value('power') / 144
    make.conductance('load', make.port('feed'), make.port('ground'), g)
  },
}
const withOdd = { kinds: new Map([...KINDS, ['odd', odd]]) }

/** What cannot well stand in a file. */
const MADE: [string, string, string[], typeof withOdd?][] = [
  ['an empty file', '', ['FILE_EMPTY 1:1']],
  ['nothing but spaces', ' \n\t\n', ['FILE_EMPTY 1:1']],
  ['a file over 2 MB', `${GOOD}# ${'x'.repeat(2e6)}`, ['FILE_TOO_LARGE 1:1']],
  ['NUL bytes', GOOD.replace('H1:', 'H\u00001:'), ['CONTROL_CHARACTER 4:4']],
  ['a binary file', `\u0001\u0002\u007f\n\u0003`, ['CONTROL_CHARACTER 1:1', 'CONTROL_CHARACTER 2:1']],
  ['text that reads from right to left', GOOD.replace('kind: lamp', 'kind: \u202elamp'), ['CONTROL_CHARACTER 4:15']],
  ['half a character', GOOD.replace('lamp lit', 'lamp \ud83d lit'), ['CONTROL_CHARACTER 10:21']],
  ['another encoding than UTF-8', GOOD.replace('lamp lit', 'lamp \ufffd lit'), ['NOT_UTF8 10:21']],
  ['very deep brackets', `halfsplit: 1\nparts: ${'{a: '.repeat(20_000)}`, ['NESTING_TOO_DEEP 1:1']],
  ['a rating that is missing', GOOD.replace('kind: lamp', 'kind: odd'), ['RATING_MISSING 4:7'], withOdd],
  [
    'a state without a solution',
    GOOD.replace('kind: lamp', 'kind: odd, power: 5 W').replace('about: lamp lit', 'set: { H1: on }'),
    ['STATE_UNSOLVED 10:3'],
    withOdd,
  ],
  [
    'more mistakes than anyone reads',
    `${GOOD}hoses:\n${Array.from({ length: 150 }, (_, i) => `  P${100 + i}: { from: A.out, to: B.in }\n`).join('')}`,
    [...Array.from({ length: 100 }, (_, i) => `UNKNOWN_PART ${12 + Math.floor(i / 2)}:${i % 2 ? 28 : 17}`), 'MORE_ISSUES 62:17'],
  ],
]

/** Codes no description brings about, and the tests that show them. */
const ELSEWHERE: Record<string, string> = {
  QUANTITY_EMPTY: 'packages/core/src/quantity.test.ts',
  LIMITS_MISSING: 'packages/measurement',
  LIMITS_REVERSED: 'packages/measurement',
  MEASUREMENT_UNUSABLE: 'packages/measurement',
  METER_MISSING: 'packages/measurement',
  PROBE_UNREADABLE: 'tests/system/malformed/procedures',
  METER_NOT_THERE: 'tests/system/malformed/procedures',
  UNKNOWN_POINT: 'tests/system/malformed/procedures',
  DONE_TOO_MUCH: 'tests/system/malformed/procedures',
  EXPECT_WITHOUT_LIMITS: 'tests/system/malformed/procedures',
  TEMPERATURE_UNUSED: 'tests/system/malformed/procedures',
  UNKNOWN_STEP: 'tests/system/malformed/procedures',
  UNKNOWN_COMPLAINT: 'tests/system/malformed/procedures',
  CYCLIC_STEPS: 'tests/system/malformed/procedures',
  STEP_UNREACHED: 'tests/system/malformed/procedures',
}

describe('malformed descriptions', () => {
  it('there are more than twenty', () => expect(files.length).toBeGreaterThan(20))

  it.each(files)('%s: each mistake at its place', (name) => {
    const expected = /^# expect: (.*)$/m.exec(read(name))?.[1].split(', ')
    expect(found(checkSystem(read(name), name).issues)).toEqual(expected)
  })

  it.each(MADE)('%s: each mistake at its place', (_, text, expected, options) => {
    expect(found(checkSystem(text, 'made.yaml', options).issues)).toEqual(expected)
  })

  it.each(files)('%s: a message says what, where and what to do', (name) => {
    const { issues, system } = checkSystem(read(name), name)
    expect(system === undefined).toBe(issues.some((one) => one.severity === 'error'))
    for (const one of issues) {
      expect(one.message.split(' ').length).toBeLessThanOrEqual(16)
      expect(one.message).toMatch(/^[a-z"'0-9][^\n]*[^.]$/)
      expect(one.expected ?? one.fix ?? one.related).toBeDefined()
      expect(printIssue(one)).toContain(`${name}:${one.position?.line}:${one.position?.column}: ${one.severity}: ${one.code}: `)
    }
  })

  it('every code of the list has its entry in the docs and a sample here or in another test', () => {
    const page = readFileSync(new URL('../../../docs/reference/issues.md', import.meta.url), 'utf8')
    const samples = [
      ...files.flatMap((name) => checkSystem(read(name), name).issues),
      ...MADE.flatMap(([, text, , options]) => checkSystem(text, 'made.yaml', options).issues),
    ]
    const shown = new Set(samples.map((one) => one.code))
    for (const [code, { meaning, remedy }] of Object.entries(ISSUE_CODES)) {
      expect(page).toContain(`\n## ${code}\n\n${sentence(meaning)}\n\nWhat to do: ${remedy}.\n`)
      if (code in ELSEWHERE) shown.add(code)
    }
    expect(Object.keys(ISSUE_CODES).filter((code) => !shown.has(code))).toEqual([])
    expect([...page.matchAll(/^## (.*)$/gm)].map(([, code]) => code)).toEqual(Object.keys(ISSUE_CODES).sort())
  })
})

const sentence = (text: string): string => `${text.charAt(0).toUpperCase()}${text.slice(1)}.`
