import { type Dimension, type Meter, nearestNames, type Parsed, parseQuantity, parseUnit, rangeFor } from '@halfsplit/core'
import type { Outcome } from '@halfsplit/inference'
import type { Shown } from '@halfsplit/job'
import type { System } from '@halfsplit/system'
import type { Taken } from './evidence.js'
import { knownPart, knownPoint, type Report } from './job-setup.js'
import { isLowImpedance, type TestProbe } from './probe.js'

type MeterProbe = Exclude<TestProbe, { kind: 'look' }>

const MEASURED: Record<MeterProbe['kind'], Dimension> = {
  volts: 'voltage',
  pressure: 'absolutePressure',
  amps: 'current',
  ohms: 'resistance',
}
const FORMS = ['volts RED BLACK', 'ohms PART RED BLACK', 'pressure POINT', 'amps WIRE']

/**
 * The probe a text of a job names, as `probeKey` writes it: "volts LT.feed BAT.minus", "ohms K7 K7.coil_a K7.coil_b".
 * @param meterName meter it was read with; one of the description that measures this is taken where it names none
 */
export function probeOf(system: System, text: string, meterName: string | undefined, report: Report): MeterProbe | undefined {
  const [kind, ...words] = text.trim().split(/\s+/)
  if (!isKind(kind)) {
    const nearest = nearestNames(kind, Object.keys(MEASURED))
    return report('JOB_PROBE_UNREADABLE', `cannot tell what '${text}' reads`, {
      expected: FORMS.join(', '),
      received: text,
      nearest,
    })
  }
  const low = kind === 'volts' && words[2] === 'low-impedance'
  const meter = meterFor(system, MEASURED[kind], low, meterName)
  if (!meter) return report('JOB_METER_UNKNOWN', `no meter of this description does ${kind}`)
  const names = low ? words.slice(0, 2) : words
  const expected = { volts: 2, pressure: 1, amps: 1, ohms: 3 }[kind]
  if (names.length !== expected) {
    const form = FORMS.find((one) => one.startsWith(kind))
    return report('JOB_PROBE_UNREADABLE', `'${text}' names too few or too many points`, { expected: form, received: text })
  }
  return named(system, kind, names, meter, report)
}

const isKind = (word: string): word is MeterProbe['kind'] => Object.hasOwn(MEASURED, word)

function named(system: System, kind: MeterProbe['kind'], names: string[], meter: Meter, report: Report): MeterProbe | undefined {
  const [first, second, third] = names
  switch (kind) {
    case 'volts':
      return knownPoint(system, first, report) && knownPoint(system, second, report) && { kind, red: first, black: second, meter }
    case 'pressure':
      return knownPoint(system, first, report) && { kind, at: first, meter }
    case 'amps':
      return wire(system, first, report) && { kind, part: first, element: 'run', meter }
    case 'ohms':
      return knownPart(system, first, report) && ownPorts(system, [first, second, third], meter, report)
  }
}

function wire(system: System, name: string, report: Report): true | undefined {
  if (system.parts.get(name)?.kind.name === 'wire') return true
  const wires = [...system.parts.values()].filter((part) => part.kind.name === 'wire').map((part) => part.name)
  return report('JOB_POINT_UNKNOWN', `a clamp goes round a wire, and '${name}' is none`, { nearest: nearestNames(name, wires) })
}

/** Resistance is read between ports of the part alone: `coil_a`, not `K7.coil_a`. */
function ownPorts(system: System, [name, red, black]: string[], meter: Meter, report: Report): MeterProbe | undefined {
  const ports = system.parts.get(name)?.kind.ports.map((port) => port.name) ?? []
  for (const port of [red, black]) {
    if (ports.includes(port)) continue
    const details = { expected: `one of ${ports.join(', ')}`, received: port, nearest: nearestNames(port, ports) }
    return report('JOB_POINT_UNKNOWN', `'${name}' has no port '${port}'`, details)
  }
  return { kind: 'ohms', part: name, red, black, meter }
}

function meterFor(system: System, quantity: Dimension, low: boolean, name: string | undefined): Meter | undefined {
  const fitting = system.meters.filter((meter) => meter.quantity === quantity && isLowImpedance(meter) === low)
  const clamps = quantity === 'current' ? fitting.filter((meter) => meter.burden === undefined) : fitting
  return fitting.find((meter) => meter.name === name) ?? clamps[0]
}

/** What was shown, as the bench weighs it: outcome in SI and the range of the meter it was read in. */
export function outcomeOf(shown: Shown, meter: Meter, report: Report): Pick<Taken, 'outcome' | 'range'> | undefined {
  if (shown.kind === 'unsteady') return report('JOB_NOT_WEIGHED', 'an unsteady display', { severity: 'warning' })
  if (shown.kind === 'over-range') {
    const top = meter.ranges[meter.ranges.length - 1].top
    const side = shown.side === 'low' ? -1 : 1
    return { outcome: { kind: 'over-range', limit: (meter.zero ?? 0) + side * top, side } }
  }
  if (shown.kind === 'interval') {
    const [low, high] = [shown.low, shown.high].map((value) => inSI(value, shown.unit, meter.quantity, report))
    return low === undefined || high === undefined ? undefined : { outcome: { kind: 'interval', low, high } }
  }
  const value = inSI(shown.value, shown.unit, meter.quantity, report)
  if (value === undefined) return undefined
  const range = rangeFor(meter, value)
  const step =
    shown.decimals === undefined
      ? range?.resolution
      : (parseUnit(shown.unit.replace(/ abs$/, ''))?.factor ?? 1) * 10 ** -shown.decimals
  const outcome: Outcome = { kind: 'number', value, halfWidth: (step ?? 0) / 2 }
  return { outcome, range }
}

function inSI(value: number, unit: string, quantity: Dimension, report: Report): number | undefined {
  const parsed: Parsed<{ value: number }> = parseQuantity(`${plain(value)} ${unit}`, quantity)
  if (parsed.ok) return parsed.value.value
  const { message, expected, received } = parsed
  return report('JOB_VALUE_UNREADABLE', message, { expected, received })
}

/** A number without exponent: what the reader of quantities takes. */
const plain = (value: number): string => (/e/.test(String(value)) ? value.toFixed(20).replace(/0+$/, '') : String(value))
