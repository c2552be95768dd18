import {
  type Bench,
  decisionTable,
  earlierJob,
  type Fit,
  fit,
  type JobLog,
  type LocateInJob,
  logOf,
  type NoFaultFound,
  noFaultFound,
  type PlanCosts,
  planCosts,
  type Proof,
  type Proposal,
  priorFactors,
  proof,
  propose,
  type Refit,
  refitList,
  type RepairDecision,
  repairDecision,
  repairsMade,
  type Standing,
  type Standpoint,
  Subsets,
  testId,
  type Verdict,
  verdict,
  type WeighedTest,
  weighTests,
} from '@halfsplit/diagnosis'
import type { Job } from '@halfsplit/job'

/** One job on one machine as it stands: the log as the bench takes it, and what follows. */
export interface Case {
  bench: Bench
  job: Job
  jobLog: JobLog
  standing: Standing
  verdict: Verdict
  /** Where the machine was left and the technician stands. */
  from: Standpoint
  /** Tests that could not be done in this job. */
  excluded: ReadonlySet<string>
  /** The next test with its alternatives; worked out when first asked for. */
  proposal(): Proposal
  /** Every test that can still be done, best first. */
  ranked(): readonly WeighedTest[]
  /** Beliefs after some of the readings. */
  subsets(): Subsets
  /** How the readings fit together. */
  fit(): Fit
  /** Repair now or test on. */
  decision(): RepairDecision | undefined
  /** The proof plan; undefined before a repair. */
  proof(): Proof | undefined
  /** What was undone and has to go back. */
  refit(): readonly Refit[]
  /** How far the job is from an honest *no fault found*; undefined while a fault is the likelier. */
  noFault(): NoFaultFound | undefined
  /** The earlier job this one is a comeback of. */
  comeback?: Comeback
}

/** An earlier job as it counts now. */
export interface Comeback {
  ageDays: number
  /** Repairs made then, and the number of readings and looks taken. */
  repairs: readonly string[]
  readings: number
  /** What it makes of the odds of each fault, by fault id. */
  factors(): ReadonlyMap<string, number>
}

/** Belief in a sound machine below which a job is not about to end without a fault. */
const ABOUT_SOUND = 0.4

/** Everything that follows from a job: a pure function of the machine and the log. */
export function openCase(bench: Bench, job: Job, locate?: LocateInJob): Case {
  const jobLog = logOf(bench, job, locate)
  const comeback = comebackOf(bench, job)
  const standing = bench.standing(jobLog.log, complaintAfter(jobLog, comeback))
  const from = standpoint(bench, jobLog)
  const excluded = new Set(jobLog.couldNot.map(({ test }) => test))
  const options = { from, excluded }
  const ranked = once(() => weighTests(bench, standing, options))
  const every = once(() => weighTests(bench, standing, { ...options, all: true }))
  return {
    bench,
    job,
    jobLog,
    standing,
    verdict: verdict(standing),
    from,
    excluded,
    proposal: once(() => propose(bench, standing, options, ranked())),
    ranked: every,
    subsets: once(() => new Subsets(standing)),
    fit: once(() => fit(standing, jobLog.log)),
    decision: once(() =>
      repairDecision(bench, standing, { from, ranked: ranked(), plan: planOf(bench, standing, from, ranked()) }),
    ),
    proof: once(() => (repairsMade(standing).length > 0 ? proof(bench, standing, jobLog.log, from) : undefined)),
    refit: once(() => refitList(bench.system, job)),
    noFault: once(() =>
      standing.nothingWrong + standing.absentNow >= ABOUT_SOUND ? noFaultFound(bench, standing, jobLog.log) : undefined,
    ),
    comeback,
  }
}

/** Tests that a plan is made of: those weighed in full. */
const PLANNED = 60
/** A suspect under this is not thought of being bought: no plan is made for it. */
const LEAST_PLANNED = 0.1

function planOf(bench: Bench, standing: Standing, from: Standpoint, ranked: readonly WeighedTest[]): PlanCosts | undefined {
  const [top] = standing.repairs
  if (!top || top.probability < LEAST_PLANNED) return undefined
  const tests = ranked.slice(0, PLANNED).filter(({ blind }) => !blind)
  return planCosts(decisionTable(bench, standing, { from, tests: tests.map(({ test }) => test) }), top.repair)
}

/** The complaint with what an earlier job on the machine makes of the odds. */
function complaintAfter({ complaint }: JobLog, comeback: Comeback | undefined): JobLog['complaint'] {
  if (!comeback) return complaint
  return { shows: [], ...complaint, priorFactors: Object.fromEntries(comeback.factors()) }
}

function comebackOf(bench: Bench, job: Job): Comeback | undefined {
  const earlier = earlierJob(job)
  if (!earlier || !job.comebackOf) return undefined
  const { ageDays } = job.comebackOf
  const { log, complaint } = logOf(bench, earlier)
  return {
    ageDays,
    repairs: log.flatMap((item) => (item.kind === 'repaired' ? item.repairs : [])),
    readings: log.filter(({ kind }) => kind === 'taken').length,
    factors: once(() => priorFactors(bench, bench.standing(log, complaint), ageDays)),
  }
}

function once<T>(make: () => T): () => T {
  let made: { value: T } | undefined
  return () => {
    made ??= { value: make() }
    return made.value
  }
}

/** From the last entry; before the first one, where the complaint was met, else in the first state. */
function standpoint(bench: Bench, { log, complaint, setup }: JobLog): Standpoint {
  const last = log.findLast((item) => item.kind === 'taken')
  const id = last && testId(last.taken.setup, last.taken.probe)
  const places = bench.tests.find((test) => test.id === id)?.places ?? []
  const state = complaint?.shows[0]?.state ?? [...bench.system.states.keys()][0]
  return { setup: setup ?? { state }, places }
}
