import { ASSUMPTIONS, createRandom, type Random } from '@halfsplit/core'
import { type Complaint as Heard, type FaultMode, faultModes, logOf } from '@halfsplit/diagnosis'
import type { Job } from '@halfsplit/job'
import type { Complaint, Fault, System } from '@halfsplit/system'
import { emptyJob, isShown } from '../draw-job.js'
import { type Chances, modeOf, VirtualMachine } from '../virtual-machine.js'
import { FaultSource } from './fault-source.js'
import { isNoticed } from './noticed.js'
import { type Mismatch, makingOf, modeKey, takenOut, wrongRates } from './mismatch.js'

/** Which jobs are drawn. */
export interface TrialSetting {
  /** Text that all draws hang on. */
  seed: string
  /** `by weight`: one fault or two, as often as their rates say. `pairs of`: each two of the likeliest repairs once. */
  faults: 'by weight' | 'one' | 'two' | { pairsOf: number }
  mismatch?: Mismatch
  /** Share of records that somebody falsified, beyond the ordinary misreads and slips. */
  falsified?: number
}

/** A job as it comes in: what is the matter, unknown to all but the trial, and what the owner says. */
export interface TrialCase {
  index: number
  truth: readonly Fault[]
  complaint: Complaint
  /** Complaint as written down, with nothing done yet. */
  job: Job
  heard: Heard
  /** Draws before this one whose machine showed none of the described complaints, or had a second fault that nobody could notice. */
  redrawn: number
  /** The fault is one that the bench is not told of. */
  missing: boolean
  /** The drawn machine, used by its owner as he complains of it: the same specimen each time. */
  machine: () => VirtualMachine
}

/** Draws without a complaint that fits, after which it is taken that there is none. */
const MOST_DRAWS = 400
/** The same for two given repairs: where the description has no complaint for them it has none. */
const MOST_DRAWS_OF_PAIR = 25
/** How often the owner says that it happens, if it comes and goes; each as likely. An assumption. */
const OFTEN = ['often', 'sometimes', 'rarely'] as const
/** Share of the draws with a missing fault where faults are missing: enough jobs of theirs to count them. */
const MISSING_DRAWS = 0.5

/**
 * Draws the jobs of a trial. Job i hangs on seed and i alone, whatever was drawn before it: any number of workers may share a trial.
 */
export class CaseSource {
  /** Failure modes that the bench is not told of. */
  readonly missing: ReadonlySet<string>
  private readonly source: FaultSource
  private readonly sourceOfMissing: FaultSource | undefined
  private readonly pairs: readonly (readonly [string, string])[]

  constructor(
    readonly system: System,
    private readonly setting: TrialSetting,
  ) {
    const { seed, mismatch, faults } = setting
    this.missing = mismatch === 'missing' ? takenOut(faultModes(system), seed) : new Set()
    const all = FaultSource.of(system, mismatch === 'rates' ? wrongRates(seed) : undefined)
    this.source = mismatch === 'missing' ? (all.only((fault) => !this.isMissing(fault)) ?? all) : all
    this.sourceOfMissing = mismatch === 'missing' ? all.only((fault) => this.isMissing(fault)) : undefined
    this.pairs = typeof faults === 'object' ? pairsIn(all.likeliestRepairs().slice(0, faults.pairsOf)) : []
  }

  /** Jobs there are to draw, where they are given one by one. */
  get number(): number | undefined {
    return typeof this.setting.faults === 'object' ? this.pairs.length : undefined
  }

  /** Job i; undefined where no drawn machine showed a complaint of the description. Cost: each draw settles every state complained of. */
  at(index: number): TrialCase | undefined {
    const random = createRandom(`${this.setting.seed}/job ${index}`)
    const most = this.pairs.length > 0 ? MOST_DRAWS_OF_PAIR : MOST_DRAWS
    for (let draw = 0; draw < most; draw += 1) {
      const own = random.fork(`draw ${draw}`)
      const missing = this.sourceOfMissing !== undefined && own.uniform() < MISSING_DRAWS
      const truth = this.truth(index, missing, own.fork('truth'))
      const found = this.complaintOf(truth, own)
      if (found) return { index, truth, redrawn: draw, missing, ...found }
    }
    return undefined
  }

  private isMissing({ part, mode }: FaultMode): boolean {
    return this.missing.has(modeKey(part.name, mode.id))
  }

  private truth(index: number, missing: boolean, random: Random): readonly Fault[] {
    const { source } = this
    const { faults } = this.setting
    if (typeof faults === 'object') return this.pairs[index].map((repair) => source.curedBy(repair, random))
    if (missing && this.sourceOfMissing) return [this.sourceOfMissing.one(random)]
    const two = faults === 'two' || (faults === 'by weight' && random.uniform() < source.shareOfTwo)
    return two ? source.two(random) : [source.one(random)]
  }

  /** What the owner complains of: one of the complaints whose looks the machine shows while all its faults are there. */
  private complaintOf(truth: readonly Fault[], random: Random) {
    const { system } = this
    const always = (faults = truth) => this.machine(faults, random, { present: 1 })
    const fitting = complaintsOf(system, always)
    if (fitting.length === 0) return undefined
    // A second fault that nobody could notice is no part of the job.
    if (truth.length > 1 && !truth.every((fault) => isNoticed(always([fault]), always([])))) return undefined
    const choice = random.fork('owner')
    const complaint = fitting[choice.integer(fitting.length)]
    const job = emptyJob(system, complaint)
    const comesAndGoes = truth.some((fault) => modeOf(system, fault).intermittent)
    if (comesAndGoes) job.complaint.howOften = OFTEN[choice.integer(OFTEN.length)]
    const heard = logOf({ system }, job).complaint as Heard
    const present = heard.howOften ?? ASSUMPTIONS.intermittentPresent
    const machine = () => {
      const drawn = this.machine(truth, random, { present })
      for (const { state } of complaint.shows) drawn.use(state)
      return drawn
    }
    return { complaint, job, heard, machine }
  }

  private machine(truth: readonly Fault[], random: Random, { present }: Pick<Chances, 'present'>): VirtualMachine {
    const { falsified = 0, mismatch } = this.setting
    const either = (chance: number) => 1 - (1 - chance) * (1 - falsified)
    const chances = { present, misread: either(ASSUMPTIONS.misread), slip: either(ASSUMPTIONS.lookError) }
    return new VirtualMachine(this.system, truth, random.fork('machine'), chances, makingOf(mismatch, random.fork('making')))
  }
}

/** Each complaint is shown to by itself: what one of them blows is not there for the others. */
function complaintsOf(system: System, machine: () => VirtualMachine): Complaint[] {
  let fresh = machine()
  return system.complaints.filter((complaint) => {
    const shown = complaint.shows.length > 0 && isShown(fresh, complaint)
    if (fresh.opened.length > 0) fresh = machine()
    return shown
  })
}

function pairsIn(repairs: readonly string[]): [string, string][] {
  const partOf = (repair: string) => repair.slice(repair.indexOf(' ') + 1)
  return repairs.flatMap((first, i) =>
    repairs
      .slice(i + 1)
      .filter((second) => partOf(first) !== partOf(second))
      .map((second): [string, string] => [first, second]),
  )
}
