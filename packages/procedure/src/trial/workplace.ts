import { ASSUMPTIONS } from '@halfsplit/core'
import {
  type Bench,
  isGood,
  type JobLog,
  logOf,
  minutesFor,
  money,
  type ProofStep,
  repairCost,
  repairTarget,
  type Standing,
  type Taken,
  type Test,
} from '@halfsplit/diagnosis'
import type { Entry, Job } from '@halfsplit/job'
import { type Fault, faultKey } from '@halfsplit/system'
import { Hands } from '../hands.js'
import { repairOf, type VirtualMachine } from '../virtual-machine.js'
import type { End, Fitted, Worked } from './outcome.js'
import type { TrialCase } from './trial-case.js'

/** One thing that has to be good after a repair, on so many occasions. */
export type Check = Pick<ProofStep, 'test' | 'good' | 'looks'>

/** A job on a virtual machine while it is worked: the log, what was spent, what was fitted. It alone knows the truth. */
export class Workplace {
  readonly job: Job
  readonly fitted: Fitted[] = []
  tests = 0
  private occasions = 0
  private testMinutes = 0
  private minutes = 0
  private price = 0
  private readonly machine: VirtualMachine
  private readonly hands: Hands
  private readonly uncured: Set<Fault>

  constructor(
    readonly bench: Bench,
    readonly given: TrialCase,
  ) {
    this.job = { ...given.job, entries: [] }
    this.machine = given.machine()
    this.hands = new Hands(this.machine)
    this.uncured = new Set(given.truth)
  }

  /** Where machine and technician are now. */
  get at() {
    return this.hands.at
  }

  /** The log so far, as the bench reads it. */
  get log(): JobLog {
    return logOf(this.bench, this.job)
  }

  /** What the bench makes of it. */
  standing(): Standing {
    const { log, complaint } = this.log
    return this.bench.standing(log, complaint)
  }

  /** Takes a test; its result is in the log. @returns what was taken, as the bench weighs it; undefined for an unsteady display */
  take(test: Test): Taken | undefined {
    const minutes = this.goTo(test)
    this.tests += 1
    this.testMinutes += minutes
    const entry = this.hands.take(test)
    this.job.entries.push(entry)
    return this.takenOf(entry)
  }

  /** Makes repairs, as `replace K7`, all at once. */
  repair(repairs: readonly string[]): void {
    for (const repair of repairs) this.pay(repair)
    const before = this.machine.opened.map((fault) => repairOf(this.machine.system, fault))
    this.machine.repair(repairs)
    for (const repair of repairs) {
      const { id, part } = repairTarget(this.bench.system, repair)
      this.fitted.push({ repair, did: this.whatDid(repair, before), price: part.repairs[id].price })
      this.job.entries.push({ kind: 'repair', repair: id, parts: [part.name] })
    }
    for (const fault of this.uncured) {
      // A new part may be bad, or wrongly fitted: the fault stands as it stood.
      const isMade = repairs.includes(repairOf(this.machine.system, fault))
      if (isMade && !this.machine.standing.includes(fault)) this.uncured.delete(fault)
    }
  }

  /**
   * Whether the machine is good at each of these, as often as they ask, the machine being used in between. What is not good is taken
   * once more before it is believed; then the rest is left. Of many good looks the last is in the log.
   */
  proves(checks: readonly Check[]): boolean {
    return checks.every((check) => this.isGoodAt(check))
  }

  /**
   * Where the owner says that it comes and goes: the machine is used until the complaint shows itself, or has stayed away so often that
   * nobody waits any longer. @returns whether it shows itself now: then this is the last entry
   */
  waitsFor(checks: readonly Check[]): boolean {
    if (this.given.heard.howOften === undefined) return false
    while (this.occasions < Math.max(...checks.map(({ looks }) => looks))) {
      this.occasions += 1
      this.machine.goOn()
      for (const check of checks) {
        const { probe } = check.test
        if (probe.kind !== 'look') continue
        const bad = this.badAt(check)
        if (!bad) continue
        // Used until warm: in the log what follows is another occasion.
        this.job.entries.push({ kind: 'action', do: 'warm', target: probe.part.name }, ...bad)
        return true
      }
    }
    return false
  }

  /** How the job went. */
  end(end: End): Worked {
    const comeback = this.uncured.size > 0 && end !== 'not described'
    return {
      end,
      fitted: this.fitted,
      left: [...this.uncured].map(faultKey),
      tests: this.tests,
      testMinutes: this.testMinutes,
      minutes: this.minutes,
      money: money(this.minutes) + this.price + (comeback ? money(ASSUMPTIONS.comebackMinutes) + ASSUMPTIONS.comebackMoney : 0),
    }
  }

  private pay(repair: string): void {
    const { part } = repairTarget(this.bench.system, repair)
    const { minutes, price } = repairCost(this.bench.system, repair, this.at.places)
    this.minutes += minutes
    this.price += price
    this.hands.standAt(part.place === undefined ? [] : [part.place])
  }

  private whatDid(repair: string, blown: readonly string[]): Fitted['did'] {
    if ([...this.uncured].some((fault) => repairOf(this.machine.system, fault) === repair)) return 'cured'
    return blown.includes(repair) ? 'replaced what blew' : 'nothing'
  }

  private isGoodAt(check: Check): boolean {
    const { test, looks } = check
    this.goTo(test)
    let entry = this.hands.take(test)
    for (let n = 1; n < looks && this.shows(check, entry); n += 1) {
      this.machine.goOn()
      entry = this.again(test)
    }
    this.job.entries.push(entry)
    if (this.shows(check, entry)) return true
    const second = this.again(test)
    this.job.entries.push(second)
    return this.shows(check, second)
  }

  /** What is seen now if it is not good, looked at twice. */
  private badAt(check: Check): Entry[] | undefined {
    this.goTo(check.test)
    const first = this.hands.take(check.test)
    if (this.shows(check, first)) return undefined
    const second = this.again(check.test)
    return this.shows(check, second) ? undefined : [first, second]
  }

  private again(test: Test): Entry {
    this.minutes += test.minutes
    return this.hands.take(test)
  }

  /** Whether an entry shows what is good. */
  private shows({ good }: Check, entry: Entry): boolean {
    const taken = this.takenOf(entry)
    return taken !== undefined && isGood(taken, good)
  }

  /** Minutes to a test and of it. */
  private goTo(test: Test): number {
    const minutes = minutesFor(this.bench.system, test, this.at)
    this.minutes += minutes
    return minutes
  }

  private takenOf(entry: Entry): Taken | undefined {
    const item = logOf(this.bench, { ...this.job, entries: [entry] }).log.at(-1)
    return item?.kind === 'taken' ? item.taken : undefined
  }
}
