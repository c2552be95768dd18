import { nearestNames } from '@halfsplit/core'
import { type Bench, type LocateInJob, logOf, testId, type WeighedTest } from '@halfsplit/diagnosis'
import { effectiveEntries, type Entry, type Job } from '@halfsplit/job'
import type { Paint } from '../io.js'
import { capital, columns } from '../words/layout.js'
import { minutesWords } from '../words/states.js'
import { shortWords } from '../words/test-words.js'
import { afterLines, whyLines } from './after.js'
import { type Answer, entryWords, readAnswer, unitOf } from './answer.js'
import { type Case, openCase } from './case.js'
import { unexpected } from './expected.js'
import { HELP } from './help.js'
import { adviceOf, alternativeLines, testLines } from './render.js'
import { takenAt } from './record-words.js'
import { standingLines } from './where-it-stands.js'
import { clearedLines, whySuspectLines } from './why-suspect.js'

/** What the session needs from outside. */
export interface Surroundings {
  paint: Paint
  now(): string
  /** Keeps the job; called after each entry. Returns what to tell, or nothing. */
  keep(job: Job, file?: string): string | undefined
  /** Takes the reading of a test in the technician's place, where something can: the practice machine of the demo. */
  take?: (test: WeighedTest['test']) => Entry | undefined
  /** Told of each entry that touches the machine. */
  done?: (entry: Entry) => void
  /** Told of the minutes a test took, with the way and what had to be set up. */
  spent?: (minutes: number) => void
}

const MOST_LISTED = 12
/** A longer list was asked for, and stands above the card already. */
const ALTERNATIVES = 2

/** One job worked through at the keyboard: each line typed gives the lines to show. */
export class Session {
  private open: Case
  private chosen: WeighedTest | undefined
  private listing: readonly WeighedTest[] = []
  private readonly skipped = new Set<string>()
  /** The tests of resistance whose circuit was proved dead since the last entry. */
  private readonly dead = new Set<string>()
  ended = false
  /** What each test said when it was taken. */
  readonly history: string[] = []

  constructor(
    private readonly bench: Bench,
    private job: Job,
    private readonly around: Surroundings,
    locate?: LocateInJob,
  ) {
    this.open = openCase(bench, job, locate)
    this.propose()
  }

  get state(): Case {
    return this.open
  }

  /** The test that is open. */
  get test(): WeighedTest | undefined {
    return this.chosen
  }

  /** Something was read or looked at. */
  get tested(): boolean {
    return this.open.jobLog.log.some(({ kind }) => kind === 'taken')
  }

  prompt(): string {
    const unit = this.chosen && unitOf(this.chosen.test)
    if (!this.chosen) return 'repair done, other, undo, why, quit > '
    const taken = this.around.take ? ', or Enter to take it' : ''
    return unit ? `reading in ${unit}${taken} > ` : `${this.wordsOf(this.chosen)}${taken} > `
  }

  private wordsOf({ test: { probe } }: WeighedTest): string {
    return probe.kind === 'look' ? probe.look.words.map((word, i) => `${i + 1} ${word}`).join(', ') : ''
  }

  /** The whole of where the job stands. */
  show(): string[] {
    const { paint } = this.around
    const lines = standingLines(this.open, paint)
    if (!this.chosen) return [...lines, 'No test left here would tell more.']
    return [...lines, ...this.card()]
  }

  private card(): string[] {
    if (!this.chosen) return []
    const others = this.listing.length > ALTERNATIVES || this.listing.includes(this.chosen) ? [] : this.listing
    const proved = this.dead.has(this.chosen.id)
    return [...testLines(this.open, this.chosen, this.around.paint, proved), ...alternativeLines(others)]
  }

  private propose(): void {
    const given = this.oddOne() ?? this.proofTest()
    if (given) {
      this.chosen = given
      this.listing = []
      return
    }
    const { best, alternatives } = this.open.proposal()
    const offered = [...(best ? [best] : []), ...alternatives].filter((one) => !this.skipped.has(one.id))
    const fresh = offered.length > 0 ? offered : this.open.ranked().filter((one) => !this.skipped.has(one.id) && !one.blind)
    this.chosen = fresh[0]
    this.listing = fresh.slice(1, 1 + ALTERNATIVES)
  }

  /** The test whose reading does not fit, to be taken again. */
  private oddOne(): WeighedTest | undefined {
    const { verdict, records } = this.open.fit()
    if (verdict !== 'take again') return undefined
    const taken = takenAt(this.open, records[0].place)
    const id = taken && testId(taken.setup, taken.probe)
    return id === undefined || this.skipped.has(id) ? undefined : this.open.ranked().find((one) => one.id === id)
  }

  /** The next step of the proof after a repair; none once one of its looks was not good: then the search goes on. */
  private proofTest(): WeighedTest | undefined {
    const steps = this.open.proof()?.steps ?? []
    if (steps.some(({ spoiled }) => spoiled)) return undefined
    const open = steps.find(({ test, done, looks }) => done < looks && !this.skipped.has(test.id))
    return open && this.open.ranked().find(({ id }) => id === open.test.id)
  }

  /** Answers one typed line. */
  answer(line: string): string[] {
    if (this.chosen?.test.probe.kind === 'ohms' && /^dead$/i.test(line.trim())) return this.provedDead(this.chosen)
    const answer = readAnswer(line, this.chosen?.test)
    switch (answer.do) {
      case 'nothing':
        return this.takeIt()
      case 'enter':
      case 'act':
        return this.enter(answer.entry)
      case 'could-not':
        return this.couldNot(answer.why)
      case 'repair':
        return this.repaired(answer.repair)
      case 'other':
        return this.other(answer.argument)
      case 'why':
        return this.why(answer.argument)
      case 'save':
        return [this.around.keep(this.job, answer.argument) ?? 'Give a file: save FILE']
      case 'unclear':
        return [answer.say]
      default:
        return this.command(answer.do)
    }
  }

  private command(what: Answer['do']): string[] {
    if (what === 'skip') return this.skip()
    if (what === 'undo') return this.undo()
    if (what === 'quit') {
      this.ended = true
      return []
    }
    return HELP
  }

  private why(suspect: string | undefined): string[] {
    if (this.open.standing.evidence.length === 0) return ['Nothing is known yet.']
    return suspect === undefined ? [...whyLines(this.open), ...clearedLines(this.open)] : whySuspectLines(this.open, suspect)
  }

  private takeIt(): string[] {
    const entry = this.chosen && this.around.take?.(this.chosen.test)
    if (!entry) return HELP
    const live = this.mayBeLive(entry)
    if (live) return live
    return [`It shows ${shown(entry)}.`, ...this.enter(entry)]
  }

  /** Ohms come after this: what was proved dead holds until something else is done. */
  private provedDead({ id }: WeighedTest): string[] {
    this.dead.add(id)
    return this.card()
  }

  /** An ohmmeter on a circuit that may be live: what is said instead of taking its reading. */
  private mayBeLive(entry: Entry): string[] | undefined {
    const test = this.chosen?.test
    if (test?.probe.kind !== 'ohms' || entry.kind !== 'reading') return undefined
    const { ohms, dead } = adviceOf(this.open, test, this.dead.has(test.id))
    return ohms?.allowed === false ? [`Not kept. ${dead ?? ''}`] : undefined
  }

  private enter(entry: Entry): string[] {
    const before = this.chosen
    const live = this.mayBeLive(entry)
    if (live) return live
    const unknown = this.unknownIn(entry)
    if (unknown) return unknown
    this.around.done?.(entry)
    if (before && (entry.kind === 'reading' || entry.kind === 'look')) this.around.spent?.(before.cost)
    const kept = this.keep(entry)
    const odd =
      before && this.isUnexpected(entry, before)
        ? ['No suspect reads this here. Check meter and points, or it is not on this drawing.']
        : []
    const said = afterLines(this.open, this.job.entries.length, before)
    if (before && said.length > 0)
      this.history.push(`${shortWords(before.test)}: ${shown(entry)}`, ...said.map((line) => `  ${line}`))
    return [...kept, ...odd, ...said, '', ...this.show()]
  }

  /** What an entry says that this machine does not have; such an entry is not kept. */
  private unknownIn(entry: Entry): string[] | undefined {
    const entries = [...this.job.entries, entry]
    const head = `entry ${entries.length}: `
    const issue = logOf(this.bench, { ...this.job, entries }).issues.find(({ message }) => message.startsWith(head))
    if (!issue) return undefined
    const near = issue.nearest?.length ? ` Nearest: ${issue.nearest.join(', ')}.` : ''
    return [`${capital(issue.message.slice(head.length))}.${near} Not kept.`]
  }

  private isUnexpected(entry: Entry, before: WeighedTest): boolean {
    const last = this.open.jobLog.log.at(-1)
    if (entry.kind !== 'reading' || last?.kind !== 'taken') return false
    const { setup, probe, outcome } = last.taken
    if (testId(setup, probe) !== before.id) return false
    if (outcome.kind === 'over-range') return unexpected(Math.abs(outcome.limit), Number.POSITIVE_INFINITY, before)
    return outcome.kind === 'number' && unexpected(outcome.value - outcome.halfWidth, outcome.value + outcome.halfWidth, before)
  }

  private keep(entry: Entry): string[] {
    this.job = { ...this.job, entries: [...this.job.entries, { ...entry, at: this.around.now() }] }
    this.skipped.clear()
    this.dead.clear()
    this.open = openCase(this.bench, this.job)
    this.propose()
    const told = this.around.keep(this.job)
    return told ? [told] : []
  }

  private couldNot(why: string | undefined): string[] {
    if (!this.chosen) return ['No test is proposed.']
    const { id } = this.chosen
    return [...this.keep({ kind: 'could-not', test: id, ...(why ? { why } : {}) }), 'Left out in this job.', '', ...this.show()]
  }

  private skip(): string[] {
    if (!this.chosen) return ['No test is proposed.']
    this.skipped.add(this.chosen.id)
    this.propose()
    return this.chosen ? this.card() : ['No test left here would tell more.']
  }

  private other(argument: string | undefined): string[] {
    if (argument === undefined)
      return [...this.list(this.open.ranked()), 'Type other and a number, or other and a word, as in "other X7".']
    const found = this.listing[Number(argument) - 1] ?? this.open.ranked().find(({ id }) => id === argument)
    if (found) {
      this.chosen = found
      return this.card()
    }
    const fitting = this.open.ranked().filter(({ test }) => shortWords(test).toLowerCase().includes(argument.toLowerCase()))
    if (fitting.length === 0) return [`No test speaks of "${argument}".${nearest(argument, this.bench.system.parts.keys())}`]
    return this.list(fitting)
  }

  /** Tests to choose from by their number. */
  private list(tests: readonly WeighedTest[]): string[] {
    this.listing = tests.slice(0, MOST_LISTED)
    return columns(
      this.listing.map((one, i) => [
        `${i + 1}`,
        `${shortWords(one.test)}; ${minutesWords(one.cost)}${one.blind ? '; cannot tell' : ''}`,
      ]),
    )
  }

  private undo(): string[] {
    const last = effectiveEntries(this.job).at(-1)
    if (!last) return ['Nothing to take back.']
    return [...this.keep({ kind: 'undo', entry: last.number }), `Taken back: ${entryWords(last.entry)}.`, '', ...this.show()]
  }

  private repaired(text: string | undefined): string[] {
    const named = this.open.standing.repairs.map(({ repair }) => repair)
    const repair = text === undefined ? this.open.verdict.repair : named.find((one) => one === text || one.endsWith(` ${text}`))
    if (!repair) return [`No repair is called "${text ?? ''}".${nearest(text ?? '', named)}`]
    const cut = repair.indexOf(' ')
    const lines = this.enter({ kind: 'repair', repair: repair.slice(0, cut), parts: [repair.slice(cut + 1)] })
    return [`${capital(repair)} is done. Now prove it: the complaint must be gone.`, ...lines]
  }
}

/** What a test showed, the place left out. */
const shown = (entry: Entry): string => (entry.kind === 'look' ? entry.word : entryWords(entry))

function nearest(word: string, names: Iterable<string>): string {
  const near = nearestNames(word, names)
  return near.length > 0 ? ` Nearest: ${near.join(', ')}.` : ''
}
