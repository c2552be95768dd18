import {
  type Bench,
  type JobLog,
  type LocateInJob,
  logOf,
  type Proposal,
  propose,
  type Standing,
  type Standpoint,
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
}

/** Everything that follows from a job: a pure function of the machine and the log. */
export function openCase(bench: Bench, job: Job, locate?: LocateInJob): Case {
  const jobLog = logOf(bench, job, locate)
  const standing = bench.standing(jobLog.log, jobLog.complaint)
  const from = standpoint(bench, jobLog)
  const excluded = new Set(jobLog.couldNot.map(({ test }) => test))
  const options = { from, excluded }
  return {
    bench,
    job,
    jobLog,
    standing,
    verdict: verdict(standing),
    from,
    excluded,
    proposal: once(() => propose(bench, standing, options)),
    ranked: once(() => weighTests(bench, standing, options)),
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
