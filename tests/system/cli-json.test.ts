import { beforeAll, expect, it } from 'vitest'
import { build, halfsplit, inFolder, LAMP } from './cli.js'
import { differences } from './json-page.js'

const job = JSON.stringify({
  format: 'halfsplit-job/1',
  machine: 'Work lamp of Heron',
  description: { name: 'lamp' },
  complaint: { words: 'the lamp stays dark', looks: [{ state: 'on', observable: 'H1.light', word: 'dark' }] },
  entries: [
    { kind: 'look', setup: { state: 'on' }, observable: 'H1.light', word: 'dark' },
    {
      kind: 'reading',
      setup: { state: 'on' },
      probe: 'volts F1.b BAT.minus',
      shown: { kind: 'value', value: 12.61, unit: 'V', decimals: 2 },
    },
    {
      kind: 'reading',
      setup: { state: 'onn' },
      probe: 'volts F1.b BAT.minus',
      shown: { kind: 'value', value: 12.61, unit: 'V', decimals: 2 },
    },
    { kind: 'could-not', test: 'off volts F1.b BAT.minus' },
  ],
})
const on = { state: 'on' }
const light = (word: string) => ({ kind: 'look', setup: on, observable: 'H1.light', word })
const complaint = { words: 'the lamp stays dark', looks: [{ state: 'on', observable: 'H1.light', word: 'dark' }] }
const begun = { format: 'halfsplit-job/1', machine: 'Work lamp of Heron', description: { name: 'lamp' } }
/** A comeback that was repaired once more, with a defect met on the way. */
const repaired = JSON.stringify({
  ...begun,
  complaint,
  comebackOf: { ageDays: 12, complaint, entries: [light('dark'), { kind: 'repair', repair: 'replace', parts: ['H1'] }] },
  entries: [
    { ...light('dark'), setup: { ...on, interventions: [{ do: 'unplug', target: 'F1' }] } },
    light('dark'),
    { kind: 'found', part: 'S1', text: 'lever bent' },
    { kind: 'repair', repair: 'replace', parts: ['H1'] },
  ],
})
const nothing = JSON.stringify({
  ...begun,
  complaint: { ...complaint, howOften: 'sometimes' },
  entries: Array.from({ length: 9 }, () => light('bright')),
})
/** A run that repeats itself, and states in which a reading hangs on the way there. */
const SWITCHES = `halfsplit: 1
parts:
  BAT: { kind: battery }
  S1: { kind: switch }
  K1: { kind: relay }
  T1: { kind: delay-module, type: TOF, delay: 10 s +- 10 % }
  COOL: { kind: coolant }
  B1: { kind: temperature-switch }
  H1: { kind: lamp }
joins:
  - [BAT.plus, S1.a, T1.feed, B1.a]
  - [S1.b, K1.common]
  - [K1.rest, T1.input]
  - [T1.output, K1.coil_a]
  - [B1.b, H1.feed]
  - [B1.sense, COOL.liquid]
  - [T1.ground, K1.coil_b, H1.ground, BAT.minus, frame]
states: { off: {}, warm: { from: off, set: { COOL.temperature: 86 degC } } }
scenarios:
  flash:
    from: warm
    for: 2 min
    drive: { S1: { 10 s: on }, COOL.temperature: { 20 s: 86 degC, 100 s: to 95 degC } }
    watch: [K1.coil_a, K1.click]
`
/** One finding, and a repair that is sometimes right. */
const SHEET = `procedure: 1
complaint: dark
steps: { lamp: { in: on, look: H1.light, expect: bright, pass: nothing found, fail: replace H1 } }
`
const at = inFolder({
  'switches.yaml': SWITCHES,
  'lamp.yaml': LAMP,
  'broken.yaml': LAMP.replace('10 W', '10 V'),
  'job.json': job,
  'repaired.json': repaired,
  'nothing.json': nothing,
  'sheet.yaml': SHEET,
})

beforeAll(build)

const CASES: [format: string, exit: number, args: string[]][] = [
  ['halfsplit-check/1', 1, ['check', at('lamp.yaml'), at('broken.yaml'), at('nowhere.yaml')]],
  ['halfsplit-readings/1', 0, ['readings', at('lamp.yaml'), '--state', 'on']],
  ['halfsplit-readings/1', 0, ['readings', at('switches.yaml'), '--state', 'warm']],
  ['halfsplit-faults/1', 0, ['faults', at('lamp.yaml')]],
  ['halfsplit-run/1', 0, ['run', at('switches.yaml'), '--scenario', 'flash']],
  ['halfsplit-run/1', 0, ['run', at('switches.yaml'), '--scenario', 'flash', '--fault', 'K1.socket_contact@100 Ohm']],
  ['halfsplit-isolate/1', 0, ['isolate', at('lamp.yaml'), '--complaint', 'dark']],
  ['halfsplit-isolate/1', 1, ['isolate', at('lamp.yaml'), '--job', at('job.json')]],
  ['halfsplit-isolate/1', 0, ['isolate', at('lamp.yaml'), '--job', at('repaired.json')]],
  ['halfsplit-isolate/1', 0, ['isolate', at('lamp.yaml'), '--job', at('nothing.json')]],
  ['halfsplit-plan/1', 0, ['plan', at('lamp.yaml'), '--complaint', 'dark', '--steps', '6']],
  ['halfsplit-audit/1', 0, ['audit', at('lamp.yaml'), at('sheet.yaml')]],
  ['halfsplit-reference/1', 0, ['reference', 'worked-examples']],
  ['halfsplit-error/1', 2, ['readings', at('lamp.yaml'), '--state', 'onn']],
  ['halfsplit-error/1', 1, ['faults', at('broken.yaml')]],
  ['halfsplit-error/1', 4, ['isolate', at('nowhere.yaml')]],
]

it.each(CASES)('%s with exit code %i: %j is as the page says', (format, exit, args) => {
  const ran = halfsplit([...args, '--json'])
  const document = JSON.parse(ran.out)
  expect(document.format).toBe(format)
  expect(differences(document, format)).toEqual([])
  expect(ran.exit).toBe(exit)
})

it('every mistake said as JSON is said on stderr too', () => {
  expect(halfsplit(['isolate', at('lamp.yaml'), '--job', at('job.json'), '--json']).err).toContain('JOB_STATE_UNKNOWN')
})
