import { formatValue, parseQuantity } from '@halfsplit/core'
import type { System } from '@halfsplit/system'
import { EXIT, type ExitCode } from '../exit-codes.js'
import { loadSystem } from '../files.js'
import { type Io, paint } from '../io.js'
import { atTemperature, type ExpectedReading, expectedReadings, THE_METER, withMeter } from '../readings.js'
import { Stop, unknownName } from '../stop.js'
import { countingDocument, countingWords } from '../words/counting.js'
import { columns, labelled, listed } from '../words/layout.js'
import { stateText } from '../words/states.js'
import { probeWords } from '../words/test-words.js'
import { bandWords, shownBy } from '../words/values.js'

export interface ReadingsOptions {
  state: string
  meter?: string
  temperature?: string
  json?: boolean
}

/** Every point of a state: expected value, limits, and what they depend on. */
export function readingsCommand(io: Io, file: string, options: ReadingsOptions): ExitCode {
  const { system: described, warnings } = loadSystem(file)
  if (warnings) io.err(`${warnings}\n`)
  const system = asAsked(described, options)
  const readings = expectedReadings(system, options.state)
  if (!Array.isArray(readings)) throw new Stop(EXIT.noRest, noRestText(options.state, readings))
  if (options.json) io.out(`${JSON.stringify(readingsDocument(system, options.state, readings), null, 2)}\n`)
  else io.out(readingsText(io, system, options.state, readings))
  return EXIT.ok
}

function asAsked(system: System, { state, meter: name, temperature }: ReadingsOptions): System {
  if (!system.states.has(state)) throw unknownName('state', state, system.states.keys())
  const meter = system.meters.find((one) => one.name === name)
  if (name !== undefined && !meter)
    throw unknownName(
      'meter',
      name,
      system.meters.map((one) => one.name),
    )
  const metered = meter ? withMeter(system, meter) : system
  return temperature === undefined ? metered : atTemperature(metered, state, kelvinOf(temperature))
}

function kelvinOf(text: string): number {
  const parsed = parseQuantity(text, 'temperature')
  if (parsed.ok) return parsed.value.value
  throw new Stop(EXIT.usage, `--temperature: ${parsed.message}\n  expected ${parsed.expected}; received ${parsed.received}`)
}

const noRestText = (state: string, { status, parts }: { status: string; parts: readonly string[] }): string =>
  `the machine comes to no rest in state "${state}" (${status})${parts.length > 0 ? `; look at ${listed(parts)}` : ''}`

const FLOATING = 'nothing but insulation holds it: any reading is possible, load it first'

function readingsText(io: Io, system: System, state: string, readings: readonly ExpectedReading[]): string {
  const { bold, dim } = paint(io.colour)
  const rows = readings.map((one) => [
    probeWords(one.test.probe),
    one.floating ? '' : shownBy(one.meter, one.expected),
    one.floating ? '' : bandWords(one.meter, { low: one.low, high: one.high, middle: one.expected }),
    one.floating ? FLOATING : causesText(one),
  ])
  const table = columns([['where', 'expected', 'limits', 'depends on'], ...rows])
  const notes = [
    'Limits hold the central 99 % of what a healthy machine shows on this meter, at the temperature of its parts in this state.',
    'Shares are of the spread between healthy machines.',
  ]
  const counting = labelled(countingWords(system, state).map((sentence) => ['Counts', sentence]))
  const head = [bold(`${system.title}: what a healthy machine reads`), `In state ${stateText(system, state)}.`, ...counting, '']
  return `${[...head, dim(table[0]), ...table.slice(1), '', ...notes].join('\n')}\n`
}

const causesText = ({ causes }: ExpectedReading): string =>
  causes
    .map(
      ({ part, rating, share }) =>
        `${part === THE_METER ? part : `${part} ${rating.replace(/_/g, ' ')}`} ${Math.round(share * 100)} %`,
    )
    .join(', ')

/** The JSON form: docs/reference/json.md, `halfsplit-readings/1`. */
function readingsDocument(system: System, state: string, readings: readonly ExpectedReading[]) {
  return {
    format: 'halfsplit-readings/1',
    machine: { name: system.name, title: system.title, hash: system.hash },
    state,
    limits: 'central 99 % of the healthy display',
    counting: countingDocument(system, state),
    readings: readings.map(({ test, meter, dimension, expected, low, high, floating, causes }) => ({
      id: test.id,
      probe: probeWords(test.probe),
      kind: test.probe.kind,
      meter: meter.name,
      dimension,
      expected,
      low,
      high,
      text: formatValue(expected, dimension),
      floating,
      dependsOn: causes,
    })),
  }
}
