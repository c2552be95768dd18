import type { JobStep, Standpoint, TableOutcome } from '@halfsplit/diagnosis'
import type { Share } from '@halfsplit/inference'

/** Where a branch of the plan leads. */
export type PlanNext =
  | { kind: 'step'; number: number }
  /** Not worked out, or nothing left that a test tells apart: these repairs, one after the other, until the proof look is good. */
  | { kind: 'rest'; repairs: readonly string[] }
  /** Nothing found that is worth a repair. */
  | { kind: 'end' }

export interface PlanBranch {
  /** What came out; after a repair: its proof look still shows the fault. */
  outcome: TableOutcome | { kind: 'still there' }
  /** Share of all jobs. */
  share: number
  /** What a sound machine most likely shows here. */
  sound: boolean
  next: PlanNext
}

/** A numbered step: a test with its branches, or a repair, which ends the job unless the fault is still there. */
export interface PlanStep {
  number: number
  step: Exclude<JobStep, { kind: 'end' }>
  /** Where machine and technician are when they come to it. */
  from: Standpoint
  /** Share of all jobs that come here. */
  share: number
  /** Minutes with set-up and way; of a repair with its proof look. */
  minutes: number
  /** Repairs believed here, likeliest first. */
  repairs: readonly { repair: string; probability: number }[]
  branches: readonly PlanBranch[]
}

/** Minutes and money of a job by the plan [min, shop's money]. */
export interface JobFigures {
  meanMinutes: number
  q90Minutes: number
  /** Not passed but in one job of a thousand. */
  worstMinutes: number
  meanMoney: number
  worstMoney: number
  /** No plan with these suspects and tests costs less on average. */
  bound: number
  /** Shares of all jobs. */
  firstRepairRight: number
  wrongEnd: number
  rest: number
  /** Good parts replaced, per 100 jobs; repairs without a price do not count. */
  goodPartsPer100: number
}

/** A fault that no test at hand tells from a sound machine, or two repairs that none tells apart, with how surely the best one would. */
export interface UnseenFault {
  fault: string
  repair: string
  /** Share of the jobs. */
  share: number
  best: number
}

export interface AlikeRepairs {
  repairs: readonly [string, string]
  share: number
  best: number
}

/** A whole procedure. Plain data: it can be printed, stored and sent. */
export interface Plan {
  /** Id of the complaint; undefined: some fault of the machine, nothing known of it. */
  complaint: string | undefined
  steps: readonly PlanStep[]
  /** Where it begins: at the first step, or with what needs none. */
  first: PlanNext
  figures: JobFigures
  /** By the plan: fraction of faults detected, and of these isolated to at most 1, 2, 3 repairs. */
  detected: Share
  isolated: readonly Share[]
  /** The same fractions if every test at hand were taken: what a longer plan could reach. */
  detectable: Share
  isolable: readonly Share[]
  unseen: readonly UnseenFault[]
  alike: readonly AlikeRepairs[]
  /** What the figures stand on. */
  faults: number
  tests: number
  leftOut: number
  notDescribed: number
  proof: { minutes: number; looks: number }
}
