import { clopperPearson, garwoodInterval, type Interval, meanInterval } from '@halfsplit/measurement'
import { type End, type Fitted, type JobOutcome, type WayName, WAYS, type Worked } from './outcome.js'

/** Confidence of every interval of a trial. */
const LEVEL = 0.95

/** A count out of a number, with its exact interval. */
export interface Share extends Interval {
  count: number
  of: number
  share: number
}

/** A mean over jobs, with its interval. */
export interface Mean extends Interval {
  mean: number
}

/** How jobs went that were worked in one way. */
export interface Tally {
  jobs: number
  /** The first repair cured a fault; what a fault had blown does not count as one. `repairedFirstCheapAside`: cheap ones in vain left aside. */
  repairedFirst: Share
  repairedFirstCheapAside: Share
  /** Good parts paid for and left in, per job; cheap ones do not count. */
  condemned: Mean
  /** All repairs in vain, per job. */
  condemnedWithCheap: Mean
  /** No fault was left at the end. */
  repaired: Share
  /** Closed as proved with a fault left. */
  unproved: Share
  ends: Readonly<Record<End, number>>
  tests: Mean
  minutes: Mean
  /** [shop's money] */
  money: Mean
  /** Of the jobs with a fault that the bench was not told of, those that ended as *not in this description*. */
  notDescribed: Share | undefined
}

/** Jobs counted by how they were worked, each way over the jobs it was used in. `oneTest`: what a part must cost more than to count. */
export function tallies(outcomes: readonly JobOutcome[], oneTest: number): Partial<Record<WayName, Tally>> {
  const found: Partial<Record<WayName, Tally>> = {}
  for (const way of WAYS) {
    const jobs = outcomes.flatMap(({ ways, missing }) => {
      const worked = ways[way]
      return worked ? [{ worked, missing }] : []
    })
    if (jobs.length > 0) found[way] = tally(jobs, oneTest)
  }
  return found
}

/** Sorts of jobs that are counted apart: a fault that is there all the time, one that comes and goes, two at once. */
export const SORTS = ['stays', 'comes and goes', 'two'] as const
export type Sort = (typeof SORTS)[number]

export const sortOf = ({ truth, comesAndGoes }: JobOutcome): Sort =>
  truth.length > 1 ? 'two' : comesAndGoes ? 'comes and goes' : 'stays'

/** Minutes of one test of the bench, ways and set-ups included, over all its jobs; 0 where it took none. */
export function minutesOfOneTest(outcomes: readonly JobOutcome[]): number {
  const worked = outcomes.flatMap(({ ways }) => ways.bench ?? [])
  const tests = sum(worked.map((one) => one.tests))
  return tests === 0 ? 0 : sum(worked.map((one) => one.testMinutes)) / tests
}

/** Counts jobs worked in one way. @throws RangeError for no job at all */
export function tally(jobs: readonly { worked: Worked; missing: boolean }[], oneTest: number): Tally {
  const all = jobs.map(({ worked }) => worked)
  const counted = (fitted: readonly Fitted[]) => fitted.filter((one) => !isCheapInVain(one, oneTest))
  const ends: Record<End, number> = { proved: 0, 'no fault found': 0, 'not described': 0, 'given up': 0 }
  for (const { end } of all) ends[end] += 1
  const missing = jobs.filter((one) => one.missing).map(({ worked }) => worked)
  return {
    jobs: all.length,
    repairedFirst: shareOf(all, ({ fitted }) => isRightFirst(fitted)),
    repairedFirstCheapAside: shareOf(all, ({ fitted }) => isRightFirst(counted(fitted))),
    condemned: eventsPerJob(all.map(({ fitted }) => counted(fitted).filter(isInVain).length)),
    condemnedWithCheap: eventsPerJob(all.map(({ fitted }) => fitted.filter(isInVain).length)),
    repaired: shareOf(all, ({ left }) => left.length === 0),
    unproved: shareOf(all, ({ end, left }) => end === 'proved' && left.length > 0),
    ends,
    tests: meanOf(all.map(({ tests }) => tests)),
    minutes: meanOf(all.map(({ minutes }) => minutes)),
    money: meanOf(all.map(({ money }) => money)),
    notDescribed: missing.length === 0 ? undefined : shareOf(missing, ({ end }) => end === 'not described'),
  }
}

const isInVain = ({ did }: Fitted): boolean => did === 'nothing'

/** A plug re-seated, a point cleaned, a switch adjusted, a lamp for less than one test: in vain, but no part condemned. */
const isCheapInVain = (one: Fitted, oneTest: number): boolean => isInVain(one) && one.price <= oneTest

const isRightFirst = (fitted: readonly Fitted[]): boolean =>
  fitted.find(({ did }) => did !== 'replaced what blew')?.did === 'cured'

function shareOf<T>(all: readonly T[], counts: (one: T) => boolean): Share {
  const count = all.filter(counts).length
  return { count, of: all.length, share: count / all.length, ...clopperPearson(count, all.length, LEVEL) }
}

/**
 * Mean number of events a job. Its interval is Garwood's, exact for rare events that know nothing of each other, unless they come in
 * clusters: then the spread between jobs decides.
 */
function eventsPerJob(counts: readonly number[]): Mean {
  const spread = meanOf(counts)
  if (varianceOf(counts) > spread.mean) return spread
  return { mean: spread.mean, ...garwoodInterval(sum(counts), counts.length, LEVEL) }
}

/** Mean of what is never negative, with Student's interval; of a single job nothing is known but that. */
function meanOf(values: readonly number[]): Mean {
  const mean = sum(values) / values.length
  if (values.length < 2) return { mean, low: 0, high: Number.POSITIVE_INFINITY }
  const { low, high } = meanInterval(mean, Math.sqrt(varianceOf(values)), values.length, LEVEL)
  return { mean, low: Math.max(low, 0), high }
}

function varianceOf(values: readonly number[]): number {
  const mean = sum(values) / values.length
  return values.length < 2 ? 0 : sum(values.map((value) => (value - mean) ** 2)) / (values.length - 1)
}

const sum = (values: readonly number[]): number => values.reduce((all, one) => all + one, 0)
