import { DEFAULT_METERS, type Dimension, type Meter, type MeterRange, STANDARD_ATMOSPHERE } from '@halfsplit/core'
import { Fields, named, textOf } from './fields.js'
import type { IssueList } from './issues.js'
import { type Entry, shapeOf, shorten, type Tree } from './tree.js'

/** Instruments that need no figures: the usual ones of a workshop. */
export const USUAL_TOOLS: Readonly<Record<string, readonly Meter[]>> = {
  multimeter: [DEFAULT_METERS.volts, DEFAULT_METERS.ohms, DEFAULT_METERS.amps],
  'low-impedance voltmeter': [DEFAULT_METERS.lowImpedanceVolts],
  'current clamp': [DEFAULT_METERS.clamp],
  'pressure gauge': [DEFAULT_METERS.pressure],
  thermometer: [DEFAULT_METERS.thermometer],
}

/** What a meter can measure, by its word in a description. */
export const MEASURED: Readonly<Record<string, { dimension: Dimension; zero?: number }>> = {
  voltage: { dimension: 'voltage' },
  current: { dimension: 'current' },
  resistance: { dimension: 'resistance' },
  pressure: { dimension: 'absolutePressure', zero: STANDARD_ATMOSPHERE },
  temperature: { dimension: 'temperature', zero: 273.15 },
}

export const METER_KEYS = ['name', 'measures', 'ranges', 'input_resistance', 'burden', 'open_voltage'] as const
export const RANGE_KEYS = ['to', 'resolution', 'accuracy', 'test_current'] as const
const EXAMPLE =
  '{ name: bench meter, measures: voltage, input_resistance: 10 MOhm, ranges: [{ to: 40 V, resolution: 10 mV, accuracy: 0.5 % + 2 }] }'

/** Reads the tools at hand; without the section, every usual one. */
export function readTools(issues: IssueList, entry: Entry | undefined): Meter[] {
  if (!entry) return Object.values(DEFAULT_METERS)
  if (entry.value.type !== 'list') {
    const expected = 'a list, as in "tools: [multimeter, current clamp]"'
    issues.add('WRONG_SHAPE', '"tools" must be a list', entry.value.at, { expected, received: shapeOf(entry.value) })
    return []
  }
  return entry.value.items.flatMap((item) => (item.type === 'map' ? readMeter(issues, item) : usualTool(issues, item)))
}

function usualTool(issues: IssueList, item: Tree): readonly Meter[] {
  const name = textOf(issues, item, 'a tool')
  if (name === undefined) return []
  if (Object.hasOwn(USUAL_TOOLS, name)) return USUAL_TOOLS[name]
  const names = Object.keys(USUAL_TOOLS)
  issues.add('UNKNOWN_TOOL', `no usual tool is called "${shorten(name, 30)}"`, item.at, {
    expected: `one of ${names.join(', ')}, or a meter with its figures`,
    received: named(name),
    nearest: issues.nearest(name, names),
  })
  return []
}

function readMeter(issues: IssueList, item: Tree): Meter[] {
  const fields = Fields.of(issues, item, 'a meter', METER_KEYS, EXAMPLE)
  const measures = fields?.text('measures')
  if (!fields || measures === undefined || !Object.hasOwn(MEASURED, measures)) {
    const at = fields?.get('measures')?.value.at ?? item.at
    issues.add('UNKNOWN_WORD', 'a meter must say what it measures', at, {
      expected: `"measures" as one of ${Object.keys(MEASURED).join(', ')}`,
      ...(measures === undefined ? {} : { received: named(measures) }),
    })
    return []
  }
  const { dimension, zero } = MEASURED[measures]
  const list = fields.get('ranges')?.value
  const ranges = list?.type === 'list' ? list.items.map((range) => readRange(issues, range, dimension)) : []
  if (ranges.length === 0) {
    issues.add('KEY_MISSING', 'a meter must have ranges', list?.at ?? item.at, {
      expected: `a list "ranges", as in "${EXAMPLE}"`,
    })
    return []
  }
  const found = ranges.filter((range) => range !== undefined).sort((p, q) => p.range.top - q.range.top)
  const currents = found.map((one) => one.testCurrent).filter((one) => one !== undefined)
  return [
    {
      name: fields.text('name') ?? `${measures} meter`,
      quantity: dimension,
      ranges: found.map((one) => one.range),
      ...(zero === undefined ? {} : { zero }),
      inputResistance: fields.quantity('input_resistance', 'resistance')?.value,
      burden: fields.quantity('burden', 'resistance')?.value,
      openVoltage: fields.quantity('open_voltage', 'voltage')?.value,
      ...(currents.length === found.length && currents.length ? { testCurrents: currents } : {}),
    },
  ]
}

/** The dimension of a step or span: that of a difference on the scale. */
const SPAN: Partial<Record<Dimension, Dimension>> = {
  absolutePressure: 'pressureDifference',
  temperature: 'temperatureDifference',
}

function readRange(issues: IssueList, tree: Tree, dimension: Dimension): { range: MeterRange; testCurrent?: number } | undefined {
  const fields = Fields.of(issues, tree, 'a range', RANGE_KEYS, '{ to: 40 V, resolution: 10 mV, accuracy: 0.5 % + 2 }')
  if (!fields) return undefined
  const span = SPAN[dimension] ?? dimension
  const top = fields.quantity('to', span)?.value
  const resolution = fields.quantity('resolution', span)?.value
  const accuracy = readAccuracy(issues, fields)
  const missing = ['to', 'resolution', 'accuracy'].filter((key) => !fields.get(key))
  if (missing.length) {
    issues.add('KEY_MISSING', `a range has no ${missing.join(' and no ')}`, fields.at, { fix: `add "${missing[0]}: ..."` })
  }
  if (top === undefined || resolution === undefined || !accuracy) return undefined
  if (!(resolution > 0 && top >= resolution)) {
    issues.add('RANGE_REVERSED', 'a range ends below its own step', fields.at, {
      expected: '"to" above "resolution", which is above zero',
    })
    return undefined
  }
  return { range: { top, resolution, ...accuracy }, testCurrent: fields.quantity('test_current', 'current')?.value }
}

/** `0.5 % + 2`: percent of the reading, plus counts of the last digit. */
function readAccuracy(issues: IssueList, fields: Fields): { percent: number; counts: number } | undefined {
  const text = fields.text('accuracy')
  if (text === undefined) return undefined
  const match = /^(?:\+-|±)?\s*\(?\s*(\d+(?:\.\d+)?)\s*%(?:\s*\+\s*(\d+(?:\.\d+)?))?\s*\)?$/.exec(text)
  if (match) return { percent: Number(match[1]), counts: Number(match[2] ?? 0) }
  issues.add('ACCURACY_UNREADABLE', 'the accuracy cannot be read', (fields.get('accuracy') as Entry).value.at, {
    expected: 'percent of the reading plus counts of the last digit, as in "0.5 % + 2"',
    received: named(text),
  })
  return undefined
}
