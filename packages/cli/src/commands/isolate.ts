import { existsSync } from 'node:fs'
import { Bench, type LocateInJob } from '@halfsplit/diagnosis'
import type { Job } from '@halfsplit/job'
import type { System } from '@halfsplit/system'
import { EXIT, type ExitCode } from '../exit-codes.js'
import { issuesText, keepJob, loadJob, loadSystem } from '../files.js'
import { type Io, paint, whileWorking } from '../io.js'
import { openCase } from '../isolate/case.js'
import { comebackJob } from '../isolate/comeback.js'
import { isolateDocument } from '../isolate/document.js'
import { complaintNamed, Intake, newJob } from '../isolate/intake.js'
import { alternativeLines, testLines } from '../isolate/render.js'
import { Session } from '../isolate/session.js'
import { standingLines } from '../isolate/where-it-stands.js'
import { clearedLines } from '../isolate/why-suspect.js'
import { Stop } from '../stop.js'

export interface IsolateOptions {
  job?: string
  complaint?: string
  save?: string
  comeback?: string
  days?: string
  json?: boolean
}

/** From a complaint and readings to the failed part: at a terminal step by step, else the state after the job. */
export async function isolateCommand(io: Io, file: string, options: IsolateOptions): Promise<ExitCode> {
  const { system, warnings } = loadSystem(file)
  if (warnings) io.err(`${warnings}\n`)
  if (options.save !== undefined && options.save !== options.job && existsSync(options.save))
    throw new Stop(EXIT.usage, `${options.save} is already there; resume it with --job ${options.save}`)
  const kept = options.job === undefined ? undefined : resumed(io, system, options.job)
  const given = begun(io, system, options)
  if (kept && given) throw new Stop(EXIT.usage, 'a kept job has its complaint; give --job alone, or --complaint and --comeback')
  if (!io.interactive || options.json) return printState(io, system, kept ?? { job: given ?? newJob(system) }, options)
  return interactive(io, system, kept ?? (given && { job: given }), options.save ?? options.job)
}

/** A new job with the complaint named, or as the comeback of an earlier one. */
function begun(io: Io, system: System, { complaint, comeback, days }: IsolateOptions): Job | undefined {
  const named = complaint === undefined ? undefined : newJob(system, complaintNamed(system, complaint))
  if (comeback === undefined) {
    if (days !== undefined) throw new Stop(EXIT.usage, '--days is the age of the job given with --comeback')
    return named
  }
  const age = days === undefined ? undefined : Number(days)
  if (age !== undefined && !(age >= 0))
    throw new Stop(EXIT.usage, `--days takes a number of days, as in --days 12; received "${days}"`)
  const { job: earlier } = resumed(io, system, comeback)
  return comebackJob(named ?? newJob(system), earlier, io.now(), age)
}

interface Kept {
  job: Job
  locate?: LocateInJob
  text?: string
}

function resumed(io: Io, system: System, file: string): Kept {
  const kept = loadJob(file)
  const { name, hash } = kept.job.description
  if (name !== system.name) throw new Stop(EXIT.usage, `${file} is a job on "${name}", and the description is "${system.name}"`)
  if (hash !== undefined && hash !== system.hash) io.err(`halfsplit: the description has changed since ${file} was begun\n`)
  return kept
}

/** The state after the job, as text or JSON. Entries the description does not know make the exit code 1. */
function printState(io: Io, system: System, { job, locate, text = '' }: Kept, { json, save }: IsolateOptions): ExitCode {
  const open = openCase(new Bench(system), job, locate)
  if (save !== undefined) keepJob(save, job)
  const { issues } = open.jobLog
  if (issues.length > 0) io.err(`${issuesText(issues, text)}\n`)
  if (json) io.out(`${JSON.stringify(isolateDocument(open), null, 2)}\n`)
  else {
    const print = paint(io.colour)
    const { best, alternatives } = open.proposal()
    const next = best
      ? [...testLines(open, best, print), ...alternativeLines(alternatives)]
      : ['No test left here would tell more.']
    io.out(`${[...standingLines(open, print), ...clearedLines(open), ...next].join('\n')}\n`)
  }
  return issues.some(({ severity }) => severity === 'error') ? EXIT.mistakes : EXIT.ok
}

async function interactive(io: Io, system: System, kept: Kept | undefined, file: string | undefined): Promise<ExitCode> {
  const say = (lines: readonly string[]) => lines.length > 0 && io.out(`${lines.join('\n')}\n`)
  const bench = whileWorking(io, () => new Bench(system))
  if (file === undefined) io.err('halfsplit: entries are not kept; type "save FILE" to keep them\n')
  else if (kept) keepJob(file, kept.job)
  const keep = keeper(file)
  const begin = ({ job, locate }: Kept) =>
    whileWorking(io, () => new Session(bench, job, { paint: paint(io.colour), now: io.now, keep }, locate))
  const intake = new Intake(system)
  let session = kept && begin(kept)
  if (session && session.state.jobLog.issues.length > 0) io.err(`${issuesText(session.state.jobLog.issues, kept?.text ?? '')}\n`)
  say(session ? session.show() : intake.show())
  for await (const line of io.lines(() => `\n${session ? session.prompt() : intake.prompt()}`)) {
    const open = session
    if (open) say(['', ...whileWorking(io, () => open.answer(line))])
    else say(intake.answer(line))
    if (!open && intake.job) {
      keep(intake.job)
      session = begin({ job: intake.job })
      say(['', ...session.show()])
    }
    if (session?.ended) break
  }
  return EXIT.ok
}

/** Keeps a job in the file last named. A file that cannot be written is told and costs no entry: the next one tries again. */
function keeper(file: string | undefined): (job: Job, to?: string) => string | undefined {
  let target = file
  return (job, to) => {
    target = to ?? target
    if (target === undefined) return undefined
    try {
      keepJob(target, job)
    } catch (error) {
      if (!(error instanceof Stop)) throw error
      return `Not kept: ${error.message}. Type save and another file.`
    }
    return to === undefined ? undefined : `Kept in ${to}.`
  }
}
