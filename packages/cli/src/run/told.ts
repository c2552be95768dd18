import type { Dimension } from '@halfsplit/core'
import type { SignalWords } from '@halfsplit/kinds'
import type { March, MarchEvent, Signal } from '@halfsplit/network'
import { type Course, conditionsAt, type Drive, type Fault, labelView, type Part, type System } from '@halfsplit/system'
import { isNumber, spoken } from '../words/names.js'
import { timeWords } from '../words/time.js'
import { userValue } from '../words/user-units.js'
import type { LookChange } from './look-watch.js'

/** Something that happened, in words. */
export interface Told {
  /** [s] */
  time: number
  kind: 'setting' | 'fault' | 'signal' | 'look'
  part: string
  /** The same whenever the same switches or comes to read the same, whatever becomes of it. */
  key: string
  /** Without the value: "TS1 opens". */
  what: string
  /** "TS1 opens at 108 degC" */
  text: string
  /** The quantity that made it switch [SI]. */
  value?: number
  dimension?: Dimension
}

/** Everything that happened in a run and has words, in the order of time. */
export function toldEvents(system: System, course: Course, march: March, looks: readonly LookChange[]): Told[] {
  const all = [
    ...course.scenario.drive.flatMap((drive) => toldDrive(system, course, drive)),
    ...course.faults.flatMap(({ fault, spells = [] }) =>
      spells.flatMap(({ from, to }) => [toldFault(system, fault, from, 'fails'), toldFault(system, fault, to, 'is well again')]),
    ),
    ...(course.opened ?? []).map(({ fault, from }) => toldOpening(system, fault, from)),
    ...march.events.flatMap((event) => toldSignal(system, course, event) ?? []),
    ...looks.map(toldLook),
  ]
  return all.filter(({ time }) => time <= march.end).sort((p, q) => p.time - q.time)
}

/** What stands at the start of a run, as if it had happened then: signals that are on, and what looks read. */
export function toldAtStart(system: System, course: Course, { start }: March, looks: readonly LookChange[]): Told[] {
  const on = Object.keys(start).filter((signal) => start[signal])
  const signals = on.flatMap((signal) => toldSignal(system, course, { signal, time: 0, on: true, cause: 'logic' }) ?? [])
  return [...signals, ...looks.map(toldLook)]
}

/** A part by its name, "wire 706" if that is a number. */
const named = (part: Part): string => (isNumber(part.name) ? `${part.kind.name} ${part.name}` : part.name)

function toldDrive(system: System, { start, until }: Course, { part: name, setting, steps }: Drive): Told[] {
  const part = system.parts.get(name) as Part
  const kind = part.kind.settings?.[setting]
  const who = Object.keys(part.kind.settings ?? {}).length === 1 ? named(part) : `${named(part)} ${spoken(setting)}`
  const told = (time: number, what: string): Told => ({ time, kind: 'setting', part: name, key: what, what, text: what })
  const words = (value: string | number) =>
    kind && 'dimension' in kind ? userValue(system, Number(value), kind.dimension) : String(value)
  return steps.flatMap(({ time, value, even }, i) => {
    const before = steps[i - 1]
    const last = before?.value ?? start.settings.get(`${name}.${setting}`)
    const begins = even ? (before?.time ?? 0) : time
    if (value === last || begins >= until) return []
    return [told(begins, even ? `${who} goes evenly to ${words(value)} by ${timeWords(time)}` : `${who} ${words(value)}`)]
  })
}

function toldFault(system: System, { part: name }: Fault, time: number, does: string): Told {
  const what = `${named(system.parts.get(name) as Part)} ${does}`
  return { time, kind: 'fault', part: name, key: what, what, text: what }
}

function toldOpening(system: System, { part: name }: Fault, time: number): Told {
  const what = `${named(system.parts.get(name) as Part)} opens for good: more flows than it can bear`
  return { time, kind: 'signal', part: name, key: what, what, text: what }
}

/** The part a signal belongs to, its own name there, and its words at a time; undefined where it has none. */
export function wordsOf(
  system: System,
  course: Course,
  signal: string,
  time: number,
): { part: Part; words: SignalWords } | undefined {
  const cut = signal.indexOf(':')
  const part = system.parts.get(signal.slice(0, cut))
  if (!part?.kind.says) return undefined
  const { settings, faults } = conditionsAt(course, time)
  const fault = faults.find((one) => one.part === part.name)
  const words = part.kind.says(labelView(part, settings, fault))[signal.slice(cut + 1)]
  return words && { part, words }
}

function toldSignal(system: System, course: Course, { signal, time, on, cause }: MarchEvent): Told | undefined {
  const found = wordsOf(system, course, signal, time)
  if (!found) return undefined
  const { part, words } = found
  const what = `${named(part)} ${on ? words.on : words.off}`
  const event = { time, kind: 'signal' as const, part: part.name, key: `${signal} ${on}`, what }
  const level = words.acts && cause === 'level' ? levelOf(course, signal, on) : undefined
  if (!words.acts || level === undefined) return { ...event, text: what }
  const dimension = words.acts.by
  return { ...event, text: `${what} at ${userValue(system, level, dimension)}`, value: level, dimension }
}

/** The level at which a threshold switches, in the unit of what it looks at; undefined where that is moved by something else. */
function levelOf({ start }: Course, id: string, on: boolean): number | undefined {
  const signal = thresholdOf(start.settled.circuit.signals, id)
  return signal && !signal.gains?.length ? (on ? signal.rise : signal.fall) / signal.scale : undefined
}

export function thresholdOf(signals: readonly Signal[], id: string): Extract<Signal, { type: 'threshold' }> | undefined {
  const signal = signals.find((one) => one.id === id)
  return signal?.type === 'threshold' ? signal : undefined
}

function toldLook({ time, part, look, word }: LookChange): Told {
  const what = look.becomes ? `${named(part)} ${look.becomes[word]}` : `${named(part)} ${spoken(look.name)}: ${look.words[word]}`
  return { time, kind: 'look', part: part.name, key: what, what, text: what }
}
