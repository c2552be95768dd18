import { type Issue, nearestNames, type Position } from '@halfsplit/core'
import { effectiveEntries, type Job, type Look, type NumberedEntry, type Reading } from '@halfsplit/job'
import type { Part, System } from '@halfsplit/system'
import type { Bench } from './bench.js'
import type { Complaint, LogItem, Taken } from './evidence.js'
import { faultModes } from './faults.js'
import { outcomeOf, probeOf } from './job-probe.js'
import { knownPart, type Report, reporter, setupOf } from './job-setup.js'
import { type Setup, setupKey } from './setup.js'
import type { TestProbe } from './probe.js'
import { type Provoked, PROVOCATIONS } from './provoke.js'

/** Where in the job's file a value stands, by its path; for messages only. */
export type LocateInJob = (path: readonly (string | number)[]) => Position | undefined

/** A job as the bench takes it. */
export interface JobLog {
  log: LogItem[]
  /** Number in the job of the entry behind each item of `log`; undefined for what an entry brought with it (a plug put back). */
  entryOf: (number | undefined)[]
  complaint?: Complaint
  /** Ids of tests that could not be done, by entry. */
  couldNot: { entry: number; test: string }[]
  /** Setup the machine was last left in. */
  setup?: Setup
  /** Entries that say something the description does not know are left out, each with an issue. */
  issues: Issue[]
}

/** How often the owner says it happens, as a chance to meet it at a look. Assumptions: common practice, no source. */
const HOW_OFTEN = { always: 0.98, often: 0.7, sometimes: 0.3, rarely: 0.08 } as const

/**
 * The log and complaint of a job against this bench's description. Never throws on what the job says: unknown states, points,
 * words and repairs are issues with nearest names, and such entries are left out.
 * A plug that was pulled for one entry counts as disturbed once a later entry is taken in another setup.
 * @param locate gives issues their places in the job's file
 */
export function logOf(bench: Pick<Bench, 'system'>, job: Job, locate: LocateInJob = () => undefined): JobLog {
  const found: JobLog = { log: [], entryOf: [], couldNot: [], issues: [] }
  found.complaint = complaintOf(bench.system, job, locate, found.issues)
  const reading = new LogReader(bench.system, job, found)
  for (const numbered of effectiveEntries(job)) {
    const { number } = numbered
    reading.add(numbered, reporter(found.issues, `entry ${number}`, locate(['entries', number - 1])))
  }
  return found
}

const UNTOUCHED: ReadonlySet<string> = new Set(['warm', 'cool', 'wet'])

/** The job that this one is a comeback of, as a job of its own. */
export function earlierJob({ comebackOf, ...job }: Job): Job | undefined {
  return comebackOf && { ...job, complaint: comebackOf.complaint, entries: comebackOf.entries }
}

class LogReader {
  constructor(
    private readonly system: System,
    private readonly job: Job,
    private readonly found: JobLog,
  ) {}

  add({ number, entry }: NumberedEntry, report: Report): void {
    if (entry.kind === 'could-not') {
      this.found.couldNot.push({ entry: number, test: entry.test })
    } else if (entry.kind === 'reading' || entry.kind === 'look') {
      const taken = takenOf(this.system, this.job, entry, report)
      if (!taken) return
      this.leave(taken.setup)
      this.push({ kind: 'taken', taken }, number)
    } else if (entry.kind === 'action') {
      this.found.setup = this.found.setup && { state: this.found.setup.state }
      const [part] = entry.target.split(/\s+/)
      // Warming, cooling and wetting wipe no contact, but what is read after them was read on a changed machine.
      if (knownPart(this.system, part, report))
        this.push({ kind: 'disturbed', parts: UNTOUCHED.has(entry.do) ? [] : [part], ...provoked(entry.do, part) }, number)
    } else if (entry.kind === 'found') {
      if (entry.part !== undefined) knownPart(this.system, entry.part, report)
    } else {
      const repairs = repairsNamed(this.system, entry.repair, entry.parts, report)
      if (repairs.length > 0) this.push({ kind: 'repaired', repairs }, number)
    }
  }

  /** What was pulled for the setup before goes back, and may be cured for now. */
  private leave(setup: Setup): void {
    const before = this.found.setup
    this.found.setup = setup
    if (!before?.intervention || setupKey(before) === setupKey(setup)) return
    const { intervention } = before
    if (intervention.do === 'unplug') this.push({ kind: 'disturbed', parts: intervention.parts }, undefined)
    if (intervention.do === 'swap') this.push({ kind: 'disturbed', parts: [intervention.part] }, undefined)
  }

  private push(item: LogItem, entry: number | undefined): void {
    this.found.log.push(item)
    this.found.entryOf.push(entry)
  }
}

/** Shaking, warming, cooling and wetting are done to see what shows itself. */
function provoked(how: string, part: string): { provoked?: Provoked } {
  const known = PROVOCATIONS.find((one) => one === how)
  return known ? { provoked: { how: known, parts: [part] } } : {}
}

function takenOf(system: System, job: Job, entry: Reading | Look, report: Report): Taken | undefined {
  const setup = setupOf(system, entry.setup, report)
  if (entry.kind === 'look') {
    const probe = lookNamed(system, entry.observable, report)
    const word = probe && wordNamed(probe, entry.word, report)
    if (!setup || !probe || word === undefined) return undefined
    return { setup, probe, outcome: { kind: 'word', word, words: probe.look.words.length } }
  }
  const probe = probeOf(system, entry.probe, entry.meter ?? job.meter, report)
  const shown = probe && outcomeOf(entry.shown, probe.meter, report)
  return setup && probe && shown && { setup, probe, ...shown }
}

type LookProbe = Extract<TestProbe, { kind: 'look' }>

function lookNamed(system: System, text: string, report: Report): LookProbe | undefined {
  const dot = text.lastIndexOf('.')
  const part = system.parts.get(text.slice(0, dot))
  const look = part?.kind.looks?.find((one) => one.name === text.slice(dot + 1))
  if (part && look) return { kind: 'look', part, look }
  const names = lookNames(system.parts.values())
  return report('JOB_LOOK_UNKNOWN', `there is no look '${text}'`, { received: text, nearest: nearestNames(text, names) })
}

const lookNames = (parts: Iterable<Part>): string[] =>
  [...parts].flatMap((part) => (part.kind.looks ?? []).map((look) => `${part.name}.${look.name}`))

function wordNamed({ part, look }: LookProbe, word: string, report: Report): number | undefined {
  const at = look.words.indexOf(word)
  if (at >= 0) return at
  const details = { expected: `one of ${look.words.join(', ')}`, received: word, nearest: nearestNames(word, look.words) }
  return report('JOB_WORD_UNKNOWN', `'${part.name}.${look.name}' is never '${word}'`, details)
}

/** `replace` of K7, or `replace K7`, as the bench names its repairs. */
function repairsNamed(system: System, repair: string, parts: readonly string[], report: Report): string[] {
  const known = new Set(faultModes(system, { byHand: true }).map((mode) => mode.repair))
  const names = known.has(repair) ? [repair] : parts.map((part) => `${repair} ${part}`)
  return names.filter((name) => {
    if (known.has(name)) return true
    report('JOB_REPAIR_UNKNOWN', `no fault is cured by '${name}'`, { received: name, nearest: nearestNames(name, known) })
    return false
  })
}

const wasRepaired = (earlier: Job['comebackOf']): boolean =>
  earlier !== undefined && effectiveEntries(earlier).some(({ entry }) => entry.kind === 'repair')

function complaintOf(system: System, job: Job, locate: LocateInJob, issues: Issue[]): Complaint | undefined {
  const { looks = [], howOften } = job.complaint
  // A repair of the earlier job is work on the machine since it was last good.
  const workedOnSince = job.complaint.workedOnSince ?? (wasRepaired(job.comebackOf) || undefined)
  const shows = looks.flatMap(({ state, observable, word }, i) => {
    const report = reporter(issues, 'complaint', locate(['complaint', 'looks', i]))
    const setup = setupOf(system, { state }, report)
    const probe = lookNamed(system, observable, report)
    const known = probe && wordNamed(probe, word, report)
    return setup && probe && known !== undefined ? [{ state, part: probe.part.name, look: probe.look.name, word }] : []
  })
  if (shows.length === 0 && howOften === undefined && workedOnSince === undefined) return undefined
  return { shows, howOften: howOften && HOW_OFTEN[howOften], workedOn: workedOnSince }
}
