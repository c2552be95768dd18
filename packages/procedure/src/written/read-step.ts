import { ISSUE_CODES, type Issue, type Position, parseQuantity } from '@halfsplit/core'
import {
  type LogIssueCode,
  probeOf,
  type Report,
  type Setup,
  setupOf,
  type Test,
  type TestProbe,
  testOf,
} from '@halfsplit/diagnosis'
import { type Entry, Fields, type IssueList, named, type System, textOf } from '@halfsplit/system'
import type { Step } from './model.js'
import { readExpect } from './read-expect.js'
import { readNext } from './read-next.js'

const STEP_KEYS = [
  ...['do', 'in', 'unplug', 'jumper', 'swap', 'look', 'measure', 'meter'],
  ...['expect', 'temperature', 'warnings', 'pass', 'fail'],
]
const EXAMPLE = 'lamp: { in: on, look: H1.light, expect: bright, pass: nothing found, fail: replace H1 }'

/** What a log of a job calls its mistakes, as a file does. */
const CODES: Record<LogIssueCode, string> = {
  JOB_STATE_UNKNOWN: 'UNKNOWN_STATE',
  JOB_POINT_UNKNOWN: 'UNKNOWN_POINT',
  JOB_LOOK_UNKNOWN: 'UNKNOWN_LOOK',
  JOB_WORD_UNKNOWN: 'UNKNOWN_WORD',
  JOB_PROBE_UNREADABLE: 'PROBE_UNREADABLE',
  JOB_METER_UNKNOWN: 'METER_NOT_THERE',
  JOB_VALUE_UNREADABLE: 'NUMBER_UNREADABLE',
  JOB_NOT_WEIGHED: 'DONE_TOO_MUCH',
  JOB_REPAIR_UNKNOWN: 'UNKNOWN_REPAIR',
}

/** Reads one step; undefined (and issues) where it cannot be followed. */
export function readStep(issues: IssueList, entry: Entry, system: System, ids: ReadonlySet<string>): Step | undefined {
  const { key: id, keyAt, value } = entry
  const fields = Fields.of(issues, value, `step '${id}'`, STEP_KEYS, EXAMPLE)
  if (!fields) return undefined
  for (const key of ['in', 'expect', 'pass', 'fail'])
    if (!fields.get(key))
      issues.add('KEY_MISSING', `step '${id}' has no "${key}"`, keyAt, { expected: `"${EXAMPLE}"`, fix: `add "${key}: ..."` })
  const setup = readSetup(issues, fields, system)
  const probe = readProbe(issues, fields, system, keyAt)
  const expect = probe && readExpect(issues, fields, probe)
  const [pass, fail] = ['pass', 'fail'].map((key) => readNext(issues, fields, key, system, ids))
  const temperature = readTemperature(issues, fields, probe)
  if (!setup || !probe || !expect || !pass || !fail) return undefined
  const test: Test = testOf(system, setup, probe)
  const place = { position: keyAt, expectAt: placeOf(fields, 'expect') }
  return {
    id,
    text: fields.text('do') ?? '',
    test,
    expect,
    temperature,
    warnings: fields.texts('warnings'),
    pass,
    fail,
    ...place,
  }
}

const placeOf = (fields: Fields, key: string): Position => fields.get(key)?.value.at ?? fields.at

function reportAt(issues: IssueList, position: Position): Report {
  return (code, message, details: Partial<Issue> = {}) => {
    issues.add(CODES[code], message, position, { fix: ISSUE_CODES[CODES[code]].remedy, ...details })
    return undefined
  }
}

function readSetup(issues: IssueList, fields: Fields, system: System): Setup | undefined {
  const state = fields.text('in')
  if (state === undefined) return undefined
  const done = ['unplug', 'jumper', 'swap'].filter((key) => fields.get(key))
  if (done.length > 1) {
    issues.add(
      'DONE_TOO_MUCH',
      `${fields.what} does two things to the machine at once`,
      fields.get(done[1])?.keyAt ?? fields.at,
      {
        expected: 'one of unplug, jumper and swap',
        fix: 'make two steps of it',
      },
    )
    return undefined
  }
  const at = (key: string) => reportAt(issues, placeOf(fields, key))
  const standing = setupOf(system, { state }, at('in'))
  const [what] = done
  if (!standing || what === undefined) return standing
  const targets = what === 'unplug' ? fields.texts(what) : [fields.text(what) ?? '']
  return setupOf(system, { state, interventions: targets.map((target) => ({ do: what as 'unplug', target })) }, at(what))
}

function readProbe(issues: IssueList, fields: Fields, system: System, keyAt: Position): TestProbe | undefined {
  const [look, measure] = [fields.get('look'), fields.get('measure')]
  if (!look === !measure) {
    issues.add('PROBE_UNREADABLE', `${fields.what} takes ${look ? 'two things' : 'nothing'}`, measure?.keyAt ?? keyAt, {
      expected: 'either "look: H1.light" or "measure: volts H1.feed BAT.minus"',
    })
    return undefined
  }
  if (look) return readLook(issues, look, system)
  const text = fields.text('measure')
  return text === undefined
    ? undefined
    : probeOf(system, text, fields.text('meter'), reportAt(issues, placeOf(fields, 'measure')))
}

function readLook(issues: IssueList, entry: Entry, system: System): TestProbe | undefined {
  const text = textOf(issues, entry.value, '"look"')
  if (text === undefined) return undefined
  const cut = text.lastIndexOf('.')
  const part = system.parts.get(text.slice(0, cut))
  const look = part?.kind.looks?.find(({ name }) => name === text.slice(cut + 1))
  if (part && look) return { kind: 'look', part, look }
  const all = (part ? [part] : [...system.parts.values()]).flatMap((one) =>
    (one.kind.looks ?? []).map(({ name }) => `${one.name}.${name}`),
  )
  issues.add('UNKNOWN_LOOK', `there is nothing to look at called "${text.slice(0, 30)}"`, entry.value.at, {
    expected: 'a part and its look, as in "H1.light"',
    received: named(text),
    nearest: issues.nearest(text, all),
  })
  return undefined
}

/** The temperature the limits of a resistance hold at. */
function readTemperature(issues: IssueList, fields: Fields, probe: TestProbe | undefined): number | undefined {
  const entry = fields.get('temperature')
  const text = fields.text('temperature')
  if (!entry || text === undefined) return undefined
  if (probe && probe.kind !== 'ohms') {
    issues.add('TEMPERATURE_UNUSED', `"temperature" of ${fields.what} belongs to a resistance`, entry.keyAt, {
      expected: 'a step that measures ohms',
      fix: 'leave it out, or say the state in "in"',
    })
    return undefined
  }
  const parsed = parseQuantity(text, 'temperature')
  if (parsed.ok) return parsed.value.value
  const { code, message, expected, received, fix } = parsed
  issues.add(code, `"temperature" of ${fields.what}: ${message}`, entry.value.at, { expected, received, ...(fix ? { fix } : {}) })
  return undefined
}
