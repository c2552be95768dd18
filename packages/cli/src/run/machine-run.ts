import { createRandom } from '@halfsplit/core'
import { type Instant, type March, march } from '@halfsplit/network'
import {
  type Course,
  legsOf,
  type NoRest,
  type Presence,
  type Realiser,
  restsOnTheWay,
  type Scenario,
  spellsOf,
} from '@halfsplit/system'
import { JUMP, LookWatch } from './look-watch.js'
import { burdensOf, firstOpening, turns } from './overloads.js'
import type { AskedFault, RunRequest } from './request.js'
import { type Told, toldAtStart, toldEvents } from './told.js'

/** One machine gone through a scenario. */
export interface MachineRun {
  course: Course
  march: March
  /** By row; undefined after the end of numbers. */
  rows: readonly (Instant | undefined)[]
  told: readonly Told[]
  /** What stands at the start, as if it had happened then. */
  before: readonly Told[]
  /** Looks that changed are timed to within this [s]. */
  resolution: number
}

/** Into so many pieces a stretch is cut in which a look changes. */
const PIECES = 40
/** More stretches than this are not looked into: what changes so often is timed by the stretch. */
const MOST_REFINED = 400
/** So many parts open one after the other before a run is taken as it is. */
const MOST_OPENINGS = 12

/** Times of the rows [s]: from 0 to the end. */
export const rowTimes = ({ scenario, every }: RunRequest): number[] => timesEvery(every, scenario.duration)

function timesEvery(step: number, duration: number): number[] {
  const count = Math.floor(duration / step + 1e-9)
  const times = Array.from({ length: count + 1 }, (_, i) => i * step)
  return times[count] < duration * (1 - 1e-9) ? [...times, duration] : times
}

const rising = (times: readonly number[]): number[] => [...new Set(times)].sort((p, q) => p - q)

/**
 * Takes a machine through a scenario. Intermittent faults come and go in spells drawn from the seed; all others are there from the
 * beginning of the recipe. What too much flows through opens for good on the way, and the rest is run again from there.
 */
export function runMachine(
  request: RunRequest,
  realiser: Realiser,
  faults: readonly AskedFault[],
  progress: (share: number) => void,
): MachineRun | NoRest {
  const begun = courseOf(request, realiser, faults)
  if ('unsettled' in begun) return begun
  let course: Course = begun
  for (;;) {
    const looks = new LookWatch(request.system, course, request.watch)
    const done = marchThrough(request, realiser, course, looks, progress)
    const opened = course.opened ?? []
    const opening =
      opened.length < MOST_OPENINGS ? firstOpening(done.samples, burdensOf(request.system, course, done.samples)) : undefined
    if (!opening) {
      progress(1)
      return finished(request, course, done, looks)
    }
    course = { ...course, opened: [...opened, opening] }
  }
}

/** One march to see where looks and loads change, and a second one that looks closely there. */
function marchThrough(
  request: RunRequest,
  realiser: Realiser,
  course: Course,
  looks: LookWatch,
  progress: (share: number) => void,
): March {
  const { legs, previous } = legsOf(realiser, course)
  const { until } = course
  const times = rising([...rowTimes(request), ...timesEvery(request.scan, request.scenario.duration)])
  const go = (samples: readonly number[], half: number) =>
    march(legs, { until, previous, samples, progress: (time) => progress((half + time / until) / 2.01) })
  const first = go(times, 0)
  const restless = [...looks.restless(first.samples), ...turns(first.samples, burdensOf(request.system, course, first.samples))]
  const jumps = [...legs.map(({ from }) => from), ...first.events.map(({ time }) => time)]
  const fine = restless.slice(0, MOST_REFINED).flatMap((stretch) => finer(stretch, jumps))
  return fine.length > 0 ? go(rising([...times, ...fine]), 1) : first
}

function finished(request: RunRequest, course: Course, done: March, looks: LookWatch): MachineRun {
  const byTime = new Map(done.samples.map((instant) => [instant.time, instant]))
  return {
    course,
    march: done,
    rows: rowTimes(request).map((time) => byTime.get(time)),
    told: toldEvents(request.system, course, done, looks.changes(done.samples)),
    before: toldAtStart(request.system, course, done, looks.wordsAt(done.samples[0])),
    resolution: request.scan / PIECES,
  }
}

/** Times to look at within a stretch: pieces of it, and just before and after whatever switches or is set there. */
function finer([from, to]: readonly [number, number], jumps: readonly number[]): number[] {
  const pieces = Array.from({ length: PIECES - 1 }, (_, i) => from + ((i + 1) * (to - from)) / PIECES)
  const switched = jumps.flatMap((time) => (time > from && time + JUMP < to ? [time, time + JUMP] : []))
  return [...pieces, ...switched]
}

function courseOf({ scenario, seed }: RunRequest, realiser: Realiser, faults: readonly AskedFault[]): Course | NoRest {
  const lasting = faults.filter(({ mode }) => !mode.intermittent).map(({ fault }) => fault)
  const rests = restsOnTheWay(realiser, scenario.from, lasting)
  if (!Array.isArray(rests)) return rests
  const start = rests[rests.length - 1]
  return { scenario, start, faults: faults.map((one) => presenceOf(one, seed, scenario)), until: scenario.duration }
}

function presenceOf({ mode, fault }: AskedFault, seed: string, { duration }: Scenario): Presence {
  if (!mode.intermittent) return { fault }
  return { fault, spells: spellsOf(createRandom(seed).fork(`${fault.part}.${fault.mode}`), duration) }
}
