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
const at = inFolder({ 'lamp.yaml': LAMP, 'broken.yaml': LAMP.replace('10 W', '10 V'), 'job.json': job })

beforeAll(build)

const CASES: [format: string, exit: number, args: string[]][] = [
  ['halfsplit-check/1', 1, ['check', at('lamp.yaml'), at('broken.yaml'), at('nowhere.yaml')]],
  ['halfsplit-readings/1', 0, ['readings', at('lamp.yaml'), '--state', 'on']],
  ['halfsplit-faults/1', 0, ['faults', at('lamp.yaml')]],
  ['halfsplit-isolate/1', 0, ['isolate', at('lamp.yaml'), '--complaint', 'dark']],
  ['halfsplit-isolate/1', 1, ['isolate', at('lamp.yaml'), '--job', at('job.json')]],
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
