import { type Dimension, formatValue } from '@halfsplit/core'
import { coolingDrop, volumeOfCapacity } from '@halfsplit/kinds'
import { chargeAt, connectedNodes, type Instant, REFERENCE_DENSITY } from '@halfsplit/network'
import { type Check, conditionsAt, nodeAt, readWatched, SURROUNDINGS, type System, type Watched, wordOf } from '@halfsplit/system'
import { timeWords } from '../words/time.js'
import { userValue } from '../words/user-units.js'
import type { MachineRun } from './machine-run.js'

/** What came of a check: kept, not kept, or never decided in this run. */
export interface Checked {
  check: Check
  outcome: 'kept' | 'not kept' | 'undecided'
  /** What was seen, and the limit. */
  text: string
  /** Seconds, or a value in SI, that was compared; null where nothing was. */
  seen: number | null
  /** A leak that explains the fall, as free air [m3/s], and the volume that empties [m3]. */
  leak?: { freeAir: number; volume: number }
}

/** Holds a run against the checks of its scenario. */
export const checkRun = (system: System, run: MachineRun): Checked[] =>
  run.course.scenario.checks.map((check) => {
    const read = reader(system, run)
    if (check.asks.ask === 'takes') return takes(system, run, check, check.asks, read)
    if (check.asks.ask === 'stands') return stands(system, run, check, check.asks, read)
    return falls(system, run, check, check.asks, read)
  })

type Read = (watched: Watched, seen: Instant) => number
type Asks<A extends Check['asks']['ask']> = Extract<Check['asks'], { ask: A }>

const reader =
  (system: System, { course }: MachineRun): Read =>
  (watched, seen) =>
    readWatched(system, watched, seen, conditionsAt(course, seen.time))

/** The time at which a quantity first stands at a level, by a straight line between samples. */
function firstAt(samples: readonly Instant[], value: (seen: Instant) => number, level: number, from = 0): number | undefined {
  for (let i = Math.max(1, from); i < samples.length; i += 1) {
    const [before, after] = [value(samples[i - 1]), value(samples[i])]
    if ((before - level) * (after - level) > 0 || before === after) continue
    return samples[i - 1].time + ((level - before) / (after - before)) * (samples[i].time - samples[i - 1].time)
  }
  return undefined
}

function takes(system: System, { march }: MachineRun, check: Check, { from, to, within }: Asks<'takes'>, read: Read): Checked {
  const { samples } = march
  const value = (seen: Instant) => read(check.of, seen)
  const begin = firstAt(samples, value, from)
  const place = begin === undefined ? 0 : samples.findIndex(({ time }) => time >= begin)
  const end = begin === undefined ? undefined : firstAt(samples, value, to, place)
  const [low, high] = [from, to].map((one) => userValue(system, one, check.of.dimension))
  const limit = `within ${timeWords(within)}`
  if (begin === undefined) return undecided(check, `${check.of.name} never stands at ${low}`)
  if (end === undefined && march.end - begin < within)
    return undecided(check, `the run ends before ${check.of.name} is at ${high}`)
  if (end === undefined)
    return { check, outcome: 'not kept', text: `${check.of.name} never gets from ${low} to ${high}; ${limit}`, seen: null }
  const text = `${check.of.name} goes from ${low} to ${high} in ${timeWords(end - begin)}; ${limit}`
  return { check, outcome: end - begin <= within ? 'kept' : 'not kept', text, seen: end - begin }
}

function stands(system: System, { march }: MachineRun, check: Check, asks: Asks<'stands'>, read: Read): Checked {
  const { samples } = march
  const { when, word, least, most } = asks
  const said = when.look.words[word]
  const at = samples.findIndex((seen, i) => i > 0 && wordAt(seen) === word && wordAt(samples[i - 1]) !== word)
  function wordAt(seen: Instant): number {
    return wordOf(when.look, read(when, seen))
  }
  if (at < 0) return undecided(check, `${when.name} never comes to read "${said}"`)
  const values = [samples[at - 1], samples[at]].map((seen) => read(check.of, seen))
  const limits = [
    ...(least === undefined ? [] : [`at least ${userValue(system, least, check.of.dimension)}`]),
    ...(most === undefined ? [] : [`at most ${userValue(system, most, check.of.dimension)}`]),
  ]
  const kept = values.every((value) => (least === undefined || value >= least) && (most === undefined || value <= most))
  const text = `${check.of.name} stands at ${userValue(system, values[1], check.of.dimension)} when ${when.name} reads "${said}"; ${limits.join(', ')}`
  return { check, outcome: kept ? 'kept' : 'not kept', text, seen: values[1] }
}

function falls(system: System, { march }: MachineRun, check: Check, { most, within, after }: Asks<'falls'>, read: Read): Checked {
  const [before, later] = [after, after + within].map((time) => nearest(march.samples, time))
  const name = check.of.name
  if (!before || !later || march.end < after + within) return undecided(check, `the run ends before ${timeWords(after + within)}`)
  const time = later.time - before.time
  const fall = read(check.of, before) - read(check.of, later)
  const difference: Dimension = check.of.dimension === 'absolutePressure' ? 'pressureDifference' : check.of.dimension
  const told = userValue(system, Math.max(0, fall), difference)
  const leak =
    check.of.watch === 'across' && check.of.dimension === 'absolutePressure'
      ? leakOf(system, check.of.at, before, later)
      : undefined
  const limit = `at most ${userValue(system, most, difference)} in ${timeWords(within)}`
  const text = `${name} falls by ${told} in ${timeWords(time)}; ${limit}${leak ? leakWords(leak, read(check.of, before)) : ''}`
  return { check, outcome: (fall * within) / time <= most ? 'kept' : 'not kept', text, seen: fall, leak }
}

/**
 * How much air is lost by the volumes in open connection with a point, from one instant to another, and the volume that fell with the
 * point: what is held up by a valve on the way is not counted.
 */
function leakOf(system: System, at: string, before: Instant, later: Instant): { freeAir: number; volume: number } | undefined {
  const node = nodeAt(system, at)
  const fall = acrossOf(before, node) - acrossOf(later, node)
  const together = connectedNodes(before, node)
  let lost = 0
  for (const element of before.circuit.network.elements) {
    if (element.type !== 'store' || !together.has(element.a)) continue
    const [first, last] = [before, later].map((seen) => chargeAt(element.charge, acrossOf(seen, element.a)).q)
    lost += first - last
  }
  if (!(fall > LEAST_FALL && lost > 0)) return undefined
  return { freeAir: lost / REFERENCE_DENSITY / (later.time - before.time), volume: volumeOfCapacity(lost / fall) }
}

/** A fall that a gauge does not show [Pa] is no leak. */
const LEAST_FALL = 100

const acrossOf = ({ circuit, point }: Instant, node: string): number => point.across[circuit.index.get(node) as number]

/** By so much [K] air in tanks may be warmer just after pumping; an assumption. */
const WARMER = 10

/** A leak in the trade's words, and what cooling alone would do. */
function leakWords({ freeAir, volume }: { freeAir: number; volume: number }, pressure: number): string {
  const cooled = formatValue(coolingDrop(pressure, SURROUNDINGS + WARMER, SURROUNDINGS), 'pressureDifference')
  const [flow, size] = [formatValue(freeAir, 'volumeFlow'), formatValue(volume, 'volume')]
  return `. That is ${flow} of free air out of ${size}; air that was ${WARMER} K warmer would fall ${cooled} by cooling alone, and then stop`
}

function nearest(samples: readonly Instant[], time: number): Instant | undefined {
  return samples.reduce<Instant | undefined>(
    (best, seen) => (best && Math.abs(best.time - time) <= Math.abs(seen.time - time) ? best : seen),
    undefined,
  )
}

const undecided = (check: Check, text: string): Checked => ({ check, outcome: 'undecided', text, seen: null })
