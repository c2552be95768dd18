import { type Issue, issue, nearestNames, type Position } from '@halfsplit/core'
import type { Setup as JobSetup } from '@halfsplit/job'
import type { Intervention, System } from '@halfsplit/system'
import type { Setup } from './setup.js'

/** What reading a log against a description may find wrong: meaning and remedy of each code. */
export const LOG_ISSUE_CODES = {
  JOB_STATE_UNKNOWN: { meaning: 'the job speaks of a state this machine has not', remedy: 'use a state of the description' },
  JOB_POINT_UNKNOWN: {
    meaning: 'the job speaks of a point or part this machine has not',
    remedy: 'use a name of the description',
  },
  JOB_LOOK_UNKNOWN: { meaning: 'the part has no such thing to look at', remedy: 'use a look of the part, as in "H1.light"' },
  JOB_WORD_UNKNOWN: { meaning: 'the look has no such word', remedy: 'use one of the words named' },
  JOB_PROBE_UNREADABLE: {
    meaning: 'the job does not say what was read',
    remedy: 'write "volts RED BLACK", "ohms PART RED BLACK", "pressure POINT" or "amps WIRE"',
  },
  JOB_METER_UNKNOWN: { meaning: 'no meter of the description measures this', remedy: 'add it under "tools"' },
  JOB_VALUE_UNREADABLE: { meaning: 'the value and its unit do not fit what was read', remedy: 'give a number and its unit' },
  JOB_NOT_WEIGHED: { meaning: 'the entry is kept but cannot be weighed', remedy: 'add a reading or a look that says the same' },
  JOB_REPAIR_UNKNOWN: { meaning: 'no fault of this machine has that repair', remedy: 'use one of the repairs named' },
} as const

export type LogIssueCode = keyof typeof LOG_ISSUE_CODES

/** Reports a mistake of one entry; keeps its place. */
export type Report = (code: LogIssueCode, message: string, details?: Partial<Issue>) => undefined

/** Collects issues of one entry of the log, each beginning with its number. */
export function reporter(issues: Issue[], where: string, position: Position | undefined): Report {
  return (code, message, details = {}) => {
    issues.push(issue(code, `${where}: ${message}`, { position, fix: LOG_ISSUE_CODES[code].remedy, ...details }))
    return undefined
  }
}

/** A job's setup as one of this machine; undefined with an issue where it has no such state or part. */
export function setupOf(system: System, { state, interventions = [] }: JobSetup, report: Report): Setup | undefined {
  if (!system.states.has(state)) {
    const nearest = nearestNames(state, system.states.keys())
    return report('JOB_STATE_UNKNOWN', `no state is called '${state}'`, { received: state, nearest })
  }
  if (interventions.length === 0) return { state }
  const opened = interventions.filter((one) => OPENING.has(one.do))
  if (opened.length === interventions.length) {
    const parts = opened.map(({ target }) => target)
    return parts.every((name) => knownPart(system, name, report)) ? { state, intervention: { do: 'unplug', parts } } : undefined
  }
  if (interventions.length > 1) return report('JOB_NOT_WEIGHED', 'two things done at once other than unplugging')
  const intervention = single(system, interventions[0], report)
  return intervention && { state, intervention }
}

const OPENING: ReadonlySet<string> = new Set(['unplug', 'isolate', 'remove'])

function single(
  system: System,
  { do: what, target }: NonNullable<JobSetup['interventions']>[number],
  report: Report,
): Intervention | undefined {
  if (what === 'swap') return knownPart(system, target, report) ? { do: 'swap', part: target } : undefined
  if (what !== 'jumper') return report('JOB_NOT_WEIGHED', `what '${what}' does to the machine is not computed`)
  const [from, to, more] = target.split(/\s+/)
  if (!from || !to || more !== undefined)
    return report('JOB_POINT_UNKNOWN', 'a jumper joins two points', { expected: 'two points', received: target })
  return knownPoint(system, from, report) && knownPoint(system, to, report) ? { do: 'jumper', from, to } : undefined
}

/** Names of everything that can be unplugged, swapped or repaired: parts and connectors. */
export function partNames(system: System): Set<string> {
  const names = new Set(system.parts.keys())
  for (const { connector } of system.parts.values()) if (connector) names.add(connector.name)
  return names
}

export function knownPart(system: System, name: string, report: Report): true | undefined {
  const names = partNames(system)
  if (names.has(name)) return true
  return report('JOB_POINT_UNKNOWN', `no part is called '${name}'`, { received: name, nearest: nearestNames(name, names) })
}

export function knownPoint(system: System, name: string, report: Report): true | undefined {
  if (system.nodeOf.has(name)) return true
  const nearest = nearestNames(name, system.nodeOf.keys())
  return report('JOB_POINT_UNKNOWN', `no point is called '${name}'`, { received: name, nearest })
}

/** A setup of the bench as a job keeps it; `setupOf` of it gives the same setup. */
export function jobSetup({ state, intervention }: Setup): JobSetup {
  if (!intervention) return { state }
  if (intervention.do === 'unplug')
    return { state, interventions: intervention.parts.map((target) => ({ do: 'unplug', target })) }
  const target = intervention.do === 'jumper' ? `${intervention.from} ${intervention.to}` : intervention.part
  return { state, interventions: [{ do: intervention.do, target }] }
}
