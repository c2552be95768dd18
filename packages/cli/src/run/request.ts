import { type Dimension, parseQuantity } from '@halfsplit/core'
import type { Mode, Severity } from '@halfsplit/kinds'
import {
  type Fault,
  labelView,
  type Part,
  type Scenario,
  type System,
  watchableNames,
  type Watched,
  watchedOf,
} from '@halfsplit/system'
import { EXIT } from '../exit-codes.js'
import { Stop, unknownName } from '../stop.js'

export interface RunOptions {
  scenario: string
  fault: string[]
  for?: string
  watch?: string
  csv?: string
  chart?: string
  every?: string
  seed: string
  json?: boolean
}

/** A fault to be run, in the description's terms. */
export interface AskedFault {
  part: Part
  mode: Mode
  fault: Fault
  /** Of its size, where it has one. */
  dimension?: Dimension
  /** Its size was not said, so that of the middle of its range is taken. */
  usualSize: boolean
}

/** What is to be run. */
export interface RunRequest {
  system: System
  /** With the duration asked for. */
  scenario: Scenario
  faults: readonly AskedFault[]
  watch: readonly Watched[]
  /** Time from one row to the next [s]. */
  every: number
  /** Time from one look at the machine to the next [s]: never longer than usual, however far apart the rows. */
  scan: number
  seed: string
}

/** Rows of a run when nothing else is said: about so many. */
const USUAL_ROWS = 1000
const MOST_ROWS = 1e6

/** @throws Stop for names that are not there and values that cannot be read */
export function requestOf(system: System, options: RunOptions): RunRequest {
  const scenario = system.scenarios.get(options.scenario)
  if (!scenario) throw unknownName('scenario', options.scenario, system.scenarios.keys())
  const duration = options.for === undefined ? scenario.duration : secondsOf('--for', options.for)
  const usual = usualEvery(duration)
  const every = options.every === undefined ? usual : secondsOf('--every', options.every)
  if (duration / every > MOST_ROWS) throw new Stop(EXIT.usage, `--every: more than a million rows in ${duration} s`)
  const faults = options.fault.map((text) => askedFault(system, text))
  const twice = faults.find(({ part }, i) => faults.findIndex((other) => other.part === part) < i)
  if (twice) throw new Stop(EXIT.usage, `--fault: a part has one fault at a time, and ${twice.part.name} is given two`)
  const watch = options.watch === undefined ? scenario.watch : options.watch.split(',').map((name) => watchedNamed(system, name))
  if (watch.length === 0 && (options.csv !== undefined || options.chart !== undefined))
    throw new Stop(EXIT.usage, `scenario "${scenario.name}" watches nothing; say what to write with --watch`)
  return { system, scenario: { ...scenario, duration }, faults, watch, every, scan: Math.min(every, usual), seed: options.seed }
}

function secondsOf(option: string, text: string): number {
  const parsed = parseQuantity(text, 'time')
  if (!parsed.ok)
    throw new Stop(EXIT.usage, `${option}: ${parsed.message}\n  expected ${parsed.expected}; received ${parsed.received}`)
  if (parsed.value.value > 0) return parsed.value.value
  throw new Stop(EXIT.usage, `${option}: expected a time above zero; received ${text}`)
}

/** 1, 2 or 5 times a power of ten, so that there are about a thousand rows or more. */
function usualEvery(duration: number): number {
  const rough = duration / USUAL_ROWS
  const power = 10 ** Math.floor(Math.log10(rough))
  const step = [5, 2, 1].find((one) => one * power <= rough * (1 + 1e-9)) ?? 1
  return Number((step * power).toPrecision(1))
}

function watchedNamed(system: System, name: string): Watched {
  const watched = watchedOf(system.parts, name)
  if (watched) return watched
  throw unknownName('point or look', name.trim(), watchableNames(system.parts.values()))
}

/** `PART.mode`, `PART.mode@3 Ohm`, `PART+OTHER.mode`. */
export function askedFault(system: System, text: string): AskedFault {
  const [name, size] = splitAt(text.trim(), text.indexOf('@'))
  const [owner, modeId] = splitAt(name, name.lastIndexOf('.'))
  const [partName, other] = splitAt(owner, owner.indexOf('+'))
  const part = system.parts.get(partName)
  if (!part || modeId === undefined) throw unknownName('part', part ? name : partName, system.parts.keys())
  const modes = modesOf(part)
  const mode = modes.find(({ id }) => id === modeId)
  if (!mode)
    throw unknownName(
      'fault',
      name,
      modes.map(({ id }) => `${part.name}.${id}`),
    )
  checkNeighbour(system, part, mode, other)
  const severity = typeof mode.severity === 'function' ? mode.severity(labelView(part, system.defaults)) : mode.severity
  const fault = { part: part.name, mode: mode.id, severity: sizeOf(name, severity, size), other }
  return { part, mode, fault, dimension: severity?.dimension, usualSize: severity !== undefined && size === undefined }
}

function splitAt(text: string, cut: number): [string, string | undefined] {
  return cut < 0 ? [text, undefined] : [text.slice(0, cut), text.slice(cut + 1)]
}

const modesOf = ({ kind, choices }: Part): Mode[] => kind.modes.filter(({ when }) => !when || choices[when.choice] === when.word)

function checkNeighbour(system: System, part: Part, mode: Mode, other: string | undefined): void {
  if (!mode.bridges && other !== undefined) throw new Stop(EXIT.usage, `--fault: ${part.name}.${mode.id} touches nothing else`)
  if (!mode.bridges) return
  const like = [...system.parts.values()].filter((one) => one !== part && one.kind === part.kind).map((one) => one.name)
  if (other === undefined)
    throw new Stop(EXIT.usage, `--fault: say what it touches, as in ${part.name}+${like[0] ?? 'OTHER'}.${mode.id}`)
  if (!like.includes(other)) throw unknownName(part.kind.title, other, like)
}

/** [SI] as asked for, else the middle of the sizes it can have. */
function sizeOf(name: string, severity: Severity | undefined, size: string | undefined): number | undefined {
  if (!severity) {
    if (size !== undefined) throw new Stop(EXIT.usage, `--fault: ${name} has no size; received "${size}"`)
    return undefined
  }
  if (size === undefined) return severity.nodes[Math.floor(severity.nodes.length / 2)]
  const parsed = parseQuantity(size, severity.dimension)
  if (parsed.ok) return parsed.value.value
  const { message, expected, received } = parsed
  throw new Stop(EXIT.usage, `--fault: size of ${name}: ${message}\n  expected ${expected}; received ${received}`)
}
