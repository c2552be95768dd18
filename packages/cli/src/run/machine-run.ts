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
import type { AskedFault, RunRequest } from './request.js'
import { type Told, toldEvents } from './told.js'

/** One machine gone through a scenario. */
export interface MachineRun {
  course: Course
  march: March
  /** By row; undefined after the end of numbers. */
  rows: readonly (Instant | undefined)[]
  told: readonly Told[]
  /** Looks that changed are timed to within this [s]. */
  resolution: number
}

/** Into so many pieces a row is cut in which a look changes. */
const PIECES = 40
/** More rows than this are not looked into: what changes so often is timed by the row. */
const MOST_REFINED = 400

/** Times of the rows [s]: from 0 to the end. */
export function rowTimes({ scenario, every }: RunRequest): number[] {
  const count = Math.floor(scenario.duration / every + 1e-9)
  const times = Array.from({ length: count + 1 }, (_, i) => i * every)
  return times[count] < scenario.duration - 1e-9 * scenario.duration ? [...times, scenario.duration] : times
}

/**
 * Takes a machine through a scenario. Intermittent faults come and go in spells drawn from the seed; all others are there from the
 * beginning of the recipe.
 */
export function runMachine(
  request: RunRequest,
  realiser: Realiser,
  faults: readonly AskedFault[],
  progress: (share: number) => void,
): MachineRun | NoRest {
  const course = courseOf(request, realiser, faults)
  if ('unsettled' in course) return course
  const { legs, previous } = legsOf(realiser, course)
  const { until } = course
  const times = rowTimes(request)
  const looks = new LookWatch(request.system, course, request.watch)
  const go = (samples: readonly number[], half: number) =>
    march(legs, { until, previous, samples, progress: (time) => progress((half + time / until) / 2) })
  const first = go(times, 0)
  const fine = looks
    .restless(first.samples)
    .slice(0, MOST_REFINED)
    .flatMap((stretch) => finer(stretch, first))
  const all = [...new Set([...times, ...fine])].sort((p, q) => p - q)
  const second = fine.length > 0 ? go(all, 1) : first
  progress(1)
  const byTime = new Map(second.samples.map((instant) => [instant.time, instant]))
  return {
    course,
    march: second,
    rows: times.map((time) => byTime.get(time)),
    told: toldEvents(request.system, course, second, looks.changes(second.samples)),
    resolution: request.every / PIECES,
  }
}

/** Times to look at within a stretch: pieces of it, and just before and after whatever switches there. */
function finer([from, to]: readonly [number, number], { events }: March): number[] {
  const pieces = Array.from({ length: PIECES - 1 }, (_, i) => from + ((i + 1) * (to - from)) / PIECES)
  const switched = events.flatMap(({ time }) => (time > from && time + JUMP < to ? [time, time + JUMP] : []))
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
