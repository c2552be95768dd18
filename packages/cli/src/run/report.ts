import { formatValue } from '@halfsplit/core'
import type { System } from '@halfsplit/system'
import type { Paint } from '../io.js'
import { capital, columns, listed, wrap } from '../words/layout.js'
import { partWords } from '../words/names.js'
import { stateText } from '../words/states.js'
import { timeWords } from '../words/time.js'
import { readable, userValue } from '../words/user-units.js'
import { checkRun } from './checks.js'
import { type Column, wordAt } from './columns.js'
import type { Difference } from './differences.js'
import { happeningsOf } from './happenings.js'
import type { MachineRun } from './machine-run.js'
import { remarksOf } from './remarks.js'
import type { AskedFault, RunRequest } from './request.js'

/** What was run and what came of it. */
export interface Outcome {
  request: RunRequest
  healthy: MachineRun
  faulted?: MachineRun
  differences: readonly Difference[]
  columns: { healthy: readonly Column[]; faulted?: readonly Column[] }
}

const MOST_HAPPENINGS = 60
const MOST_DIFFERENCES = 8

/** The whole run as text: events of each machine, where they part, and what is to be said besides. */
export function reportText(outcome: Outcome, { bold }: Paint): string {
  const { request, healthy, faulted, differences } = outcome
  const { system, scenario } = request
  const about = scenario.about === '' ? '' : `, ${scenario.about}`
  const lines = [
    bold(`${system.title}: ${scenario.name}${about}`),
    `${timeWords(scenario.duration)} from ${stateText(system, scenario.from)}.`,
    ...request.faults.map((one) => `With ${faultWords(one)}.`),
    ...(faulted ? ['', bold('With the fault'), ...happeningLines(system, faulted)] : []),
    '',
    bold(faulted ? 'Healthy' : 'What happens'),
    ...happeningLines(system, healthy),
    ...(faulted ? ['', bold('Where they part'), ...differenceLines(differences)] : []),
    ...checkLines(outcome, bold),
    ...watchedLines(outcome, bold),
    ...resolutionLines([healthy, ...(faulted ? [faulted] : [])]),
  ]
  return `${lines.join('\n')}\n`
}

/** "K7 burnt contacts, 22 Ohm (the usual size)" */
export function faultWords({ part, mode, fault, dimension, usualSize }: AskedFault): string {
  const touches = fault.other === undefined ? '' : ` ${fault.other}`
  const size = fault.severity === undefined || !dimension ? '' : `, ${formatValue(fault.severity, dimension)}`
  const comes = mode.intermittent ? ', in spells' : ''
  return `${partWords(part)} ${mode.title}${touches}${size}${usualSize ? ' (middle of its range)' : ''}${comes}`
}

function happeningLines(system: System, run: MachineRun): string[] {
  const all = happeningsOf(run.told)
  const more = all.length - MOST_HAPPENINGS
  const lines = all.slice(0, MOST_HAPPENINGS).flatMap(({ text }) => hanging(text))
  return [
    ...(lines.length > 0 ? lines : ['  Nothing switches.']),
    ...(more > 0 ? [`  and ${more} more; --json has them all`] : []),
    ...remarksOf(system, run).flatMap(hanging),
  ]
}

/** A sentence that goes on below its beginning. */
const hanging = (text: string): string[] => wrap(text, 110, '  ').map((line, i) => (i === 0 ? line : `  ${line}`))

function differenceLines(differences: readonly Difference[]): string[] {
  if (differences.length === 0) return ['  Nowhere: what happens is the same, and at the same times.']
  const more = differences.length - MOST_DIFFERENCES
  const rows = differences
    .slice(0, MOST_DIFFERENCES)
    .map(({ what, alike, healthy, faulted, otherwise }) => [
      `${what}${alike > 0 ? ` (time ${alike + 1})` : ''}`,
      `healthy ${when(healthy)}`,
      `with the fault ${when(faulted)}${otherwise ? `: ${otherwise}` : ''}`,
    ])
  return [...columns(rows), ...(more > 0 ? [`  and ${more} more`] : [])]
}

const when = (time: number | undefined): string =>
  time === undefined ? 'never' : time === 0 ? 'before the start' : `at ${timeWords(time)}`

/** What the scenario asks of the machine, by rule or manual, healthy and with the fault. */
function checkLines({ request: { system, scenario }, healthy, faulted }: Outcome, bold: Paint['bold']): string[] {
  if (scenario.checks.length === 0) return []
  const lines = (run: MachineRun, who: string) =>
    checkRun(system, run).flatMap(({ check, outcome, text }) => {
      const clause = check.clause === '' ? '' : ` (${check.clause})`
      return hanging(`${who}${check.name.replaceAll('_', ' ')}: ${outcome}. ${capital(text)}${clause}`)
    })
  const title = 'Checks (what the law and the maker ask is for you to look up)'
  return ['', bold(title), ...(faulted ? lines(faulted, '') : []), ...lines(healthy, faulted ? 'healthy, ' : '')]
}

/** Start, least, most and end of what is watched. */
function watchedLines({ request: { system }, columns: { healthy, faulted } }: Outcome, bold: Paint['bold']): string[] {
  if (healthy.length === 0) return []
  const rows = healthy.flatMap((column, i) => [
    ...(faulted ? [[column.watched.name, ...rangeOf(system, faulted[i])]] : []),
    [faulted ? `${column.watched.name}, healthy` : column.watched.name, ...rangeOf(system, column)],
  ])
  return ['', bold('Watched'), ...columns([['', 'start', 'least', 'most', 'end'], ...rows])]
}

function rangeOf(system: System, column: Column): string[] {
  const { dimension, values } = column
  const known = values.filter((value) => !Number.isNaN(value))
  if (known.length === 0) return ['', '', '', '']
  if (dimension === undefined) {
    const [first, last] = [0, known.length - 1].map((row) => wordAt(column, row))
    const words = [...new Set(known.map((_, row) => wordAt(column, row)))]
    return [first, words.length > 1 ? listed(words) : '', '', last]
  }
  const [least, most] = known.reduce(([low, high], value) => [Math.min(low, value), Math.max(high, value)], [Infinity, -Infinity])
  return [known[0], least, most, known[known.length - 1]].map((value) => userValue(system, readable(value, dimension), dimension))
}

function resolutionLines(runs: readonly MachineRun[]): string[] {
  if (!runs.some(({ told }) => told.some(({ kind }) => kind === 'look'))) return []
  const resolution = timeWords(Math.max(...runs.map((run) => run.resolution)))
  return ['', capital(`what is seen is timed to within ${resolution}; contacts, valves and timers to the digit.`)]
}
