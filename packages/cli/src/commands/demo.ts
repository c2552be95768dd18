import { fileURLToPath } from 'node:url'
import { createRandom } from '@halfsplit/core'
import { Bench } from '@halfsplit/diagnosis'
import type { Entry } from '@halfsplit/job'
import { Hands, modeOf, repairOf, VirtualMachine } from '@halfsplit/procedure'
import type { Fault, System } from '@halfsplit/system'
import { EXIT, type ExitCode } from '../exit-codes.js'
import { loadSystem } from '../files.js'
import { type Io, paint, whileWorking } from '../io.js'
import { isolateDocument } from '../isolate/document.js'
import { complaintNamed, newJob } from '../isolate/intake.js'
import { Session } from '../isolate/session.js'
import { wrap } from '../words/layout.js'
import { repairTitle } from '../words/suspects.js'
import { minutesWords } from '../words/states.js'

const MACHINE = fileURLToPath(new URL('../../../../library/fan-drive/fan-drive.yaml', import.meta.url))
/** A job that takes more tests is not for a newcomer. */
const MOST_TESTS = 10

/** What may be hidden, each with the complaint it gives. */
const HIDDEN: readonly { fault: Fault; complaint: string }[] = [
  { fault: { part: 'K7', mode: 'high_contact_resistance', severity: 25 }, complaint: 'stays_on_after_warm' },
  { fault: { part: 'TS1', mode: 'stays_closed' }, complaint: 'never_stops' },
  { fault: { part: 'SV1', mode: 'coil_open' }, complaint: 'never_stops' },
  { fault: { part: 'A3', mode: 'bursts' }, complaint: 'never_stops' },
]

/** A job on the fan drive of the library with a fault hidden in a virtual machine: played at a terminal, printed whole without one. */
export async function demoCommand(io: Io, { seed, json }: { seed: string; json?: boolean }): Promise<ExitCode> {
  const { system } = loadSystem(MACHINE)
  const job = new HiddenJob(system, seed)
  const say = (lines: readonly string[]) => io.out(`${lines.join('\n')}\n`)
  if (!json) say(job.introduction(paint(io.colour).bold))
  const session = whileWorking(io, () => job.begin(io))
  if (json) {
    work(job, session, () => undefined)
    io.out(`${JSON.stringify(job.document(session), null, 2)}\n`)
    return EXIT.ok
  }
  say(session.show())
  if (io.interactive) await play(io, job, session, say)
  else work(job, session, (lines) => say(['', ...lines]))
  say(['', ...job.truth(session, paint(io.colour).bold)])
  return EXIT.ok
}

/** At a terminal: until a repair is justified, or the newcomer stops. */
async function play(io: Io, job: HiddenJob, session: Session, say: (lines: readonly string[]) => void): Promise<void> {
  for await (const line of io.lines(() => `\n${session.prompt()}`)) {
    say(['', ...whileWorking(io, () => session.answer(line))])
    if (session.ended || job.isFound(session)) break
  }
}

/** With nobody there: every proposed test is taken. */
function work(job: HiddenJob, session: Session, say: (lines: readonly string[]) => void): void {
  for (let n = 0; n < MOST_TESTS && session.test && !job.isFound(session); n += 1) say(session.answer(''))
}

class HiddenJob {
  private readonly machine: VirtualMachine
  private readonly hands: Hands
  private readonly fault: Fault
  private readonly complaint: string
  private minutes = 0

  constructor(
    private readonly system: System,
    seed: string,
  ) {
    const random = createRandom(seed)
    const { fault, complaint } = HIDDEN[random.integer(HIDDEN.length)]
    this.fault = fault
    this.complaint = complaint
    // Nobody slips or misreads in a first job.
    this.machine = new VirtualMachine(system, [fault], random.fork('machine'), { misread: 0, slip: 0 })
    this.hands = new Hands(this.machine)
  }

  introduction(bold: (text: string) => string): string[] {
    return [
      bold(`A job to try: ${this.system.title}`),
      ...wrap(this.system.about),
      '',
      `The owner says: "${complaintNamed(this.system, this.complaint).words}".`,
      ...wrap(
        'One fault is hidden in this machine. Press Enter, and the proposed test is taken on it; help shows what else can be typed.',
      ),
      '',
    ]
  }

  begin({ colour, now }: Io): Session {
    const job = newJob(this.system, complaintNamed(this.system, this.complaint))
    return new Session(new Bench(this.system), job, {
      paint: paint(colour),
      now,
      keep: () => undefined,
      take: (test) => this.hands.take(test),
      done: (entry) => this.done(entry),
      spent: (minutes) => {
        this.minutes += minutes
      },
    })
  }

  isFound(session: Session): boolean {
    return session.tested && session.state.verdict.kind === 'repair'
  }

  private done(entry: Entry): void {
    if (entry.kind === 'action') this.machine.disturb([entry.target])
    if (entry.kind === 'repair') this.machine.repair(entry.parts.map((part) => `${entry.repair} ${part}`))
  }

  truth(session: Session, bold: (text: string) => string): string[] {
    const { verdict } = session.state
    const cure = repairOf(this.system, this.fault)
    const found = verdict.kind === 'repair' && verdict.repair === cure
    return [
      bold(`The truth: ${this.fault.part} ${modeOf(this.system, this.fault).title}.`),
      `Repair: ${cure} (${repairTitle(this.system, cure)}). ${found ? 'That is what was found' : 'It was not found yet'}, in ${minutesWords(this.minutes)} of work at the machine.`,
      '',
      bold('What each reading proved'),
      ...session.history.filter((line) => !line.startsWith('  If wrong')),
    ]
  }

  /** The JSON form: docs/reference/json.md, `halfsplit-demo/1`. */
  document(session: Session) {
    return {
      format: 'halfsplit-demo/1',
      truth: { ...this.fault, title: modeOf(this.system, this.fault).title, repair: repairOf(this.system, this.fault) },
      minutes: this.minutes,
      job: session.state.job,
      state: isolateDocument(session.state),
    }
  }
}
