import { formatValue } from '@halfsplit/core'
import type { Graze } from '@halfsplit/network'
import type { Course, System } from '@halfsplit/system'
import { listed } from '../words/layout.js'
import { timeWords } from '../words/time.js'
import { unitOf } from '../words/user-units.js'
import type { MachineRun } from './machine-run.js'
import { wordsOf } from './told.js'

/** What is to be said of a run as a whole: how it ended, whether it repeats itself, what came near to switching. */
export function remarksOf(system: System, run: MachineRun): string[] {
  return [...openedBefore(run), ...ending(run), ...repetition(run), ...nearMisses(system, run)]
}

/** Names of the parts that signals or elements belong to. */
const partsOf = (ids: readonly string[]): string[] => [...new Set(ids.map((id) => id.slice(0, id.indexOf(':'))))]

/** What blew before the scenario began. */
function openedBefore({ course: { start, faults, scenario } }: MachineRun): string[] {
  const opened = start.faults.filter(({ part, mode }) => !faults.some(({ fault }) => fault.part === part && fault.mode === mode))
  return opened.map(({ part }) => `On the way into ${scenario.from} ${part} opens for good: more flows than it can bear.`)
}

function ending({ march: { status, end, parts, period } }: MachineRun): string[] {
  if (status === 'no convergence')
    return [
      `No numbers after ${timeWords(end)}: the equations find no solution there; look at ${listed(partsOf(parts)) || 'its description'}.`,
    ]
  if (status !== 'chatters' || !period) return []
  const often = `about ${Number((1 / period.length).toPrecision(1))} times a second`
  return [
    `${listed(partsOf(parts))} ${partsOf(parts).length > 1 ? 'chatter' : 'chatters'} from ${timeWords(end)} on: ${often}. No numbers after that.`,
  ]
}

function repetition({ course, march: { status, period } }: MachineRun): string[] {
  if (!period || status === 'chatters') return []
  const who = listed(partsOf(period.signals))
  const changed = Math.min(...changesOf(course).filter((time) => time > period.from))
  const end = Number.isFinite(changed)
    ? `from ${timeWords(period.from)} to ${timeWords(changed)}`
    : `from ${timeWords(period.from)} on`
  return [`It repeats itself every ${timeWords(period.length)} ${end} (${who}).`]
}

/** Times at which something is set, or comes or goes: nothing need repeat itself beyond them. */
function changesOf({ scenario, faults, opened = [], until }: Course): number[] {
  const steps = scenario.drive.flatMap(({ steps: all }) => all.map(({ time }) => time))
  const spells = faults.flatMap(({ spells: all = [] }) => all.flatMap(({ from, to }) => [from, to]))
  return [...steps, ...spells, ...opened.map(({ from }) => from)].filter((time) => time < until)
}

const MOST_NEAR = 5

function nearMisses(system: System, run: MachineRun): string[] {
  const nearest = new Map<string, Graze>()
  for (const graze of run.march.grazes) {
    const known = nearest.get(graze.signal)
    if (!known || Math.abs(graze.overdrive) < Math.abs(known.overdrive)) nearest.set(graze.signal, graze)
  }
  const words = [...nearest.values()].flatMap((graze) => nearMiss(system, run, graze) ?? [])
  return words.slice(0, MOST_NEAR)
}

function nearMiss(system: System, { course, march }: MachineRun, { signal, time, overdrive }: Graze): string | undefined {
  const found = wordsOf(system, course, signal, time)
  if (!found) return undefined
  const last = march.events.findLast((event) => event.signal === signal && event.time <= time)
  const on = last?.on ?? march.start[signal]
  const { part, words } = found
  if (!words.acts) return `${part.name} came near to this: ${on ? words.off : words.on}, at ${timeWords(time)}.`
  const difference = words.acts.by === 'temperature' ? 'temperatureDifference' : words.acts.by
  const unit = difference === 'pressureDifference' ? unitOf(system, difference) : undefined
  const short = formatValue(Math.abs(overdrive), difference, { digits: 2, unit })
  return `${part.name} came within ${short} of its ${on ? 'reset' : 'trip'} point at ${timeWords(time)} and did not switch.`
}
