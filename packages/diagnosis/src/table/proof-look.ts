import { ASSUMPTIONS } from '@halfsplit/core'
import { withMisread } from '@halfsplit/inference'
import type { System } from '@halfsplit/system'
import { minutesFor, type Standpoint, stateMinutes } from '../effort.js'
import { predictCell } from '../next.js'
import type { TestProbe } from '../probe.js'
import { testOf } from '../tests.js'
import type { Standing } from '../view.js'

/** The look after a repair: where it ends, its minutes from its first setup on, and how often it shows a good machine that is not. */
export interface ProofLook {
  at: Standpoint
  minutes: number
  /** Times it is repeated, because what comes and goes may be away. */
  looks: number
  /** By cell: chance that none of the looks shows the complaint although the fault is there. */
  missed: readonly number[]
}

/** A fault that the looks hardly ever show is not waited for. */
const HIDDEN = 0.9

interface WeighedCell {
  cell: number
  probability: number
  faulty: boolean
}

/**
 * The complaint's looks, in the states it speaks of. Without a complaint: every state in use is run through once and the operator's looks
 * are taken; a slip of the observer is then all that misses a fault.
 */
export function proofLook(system: System, standing: Standing, cells: readonly WeighedCell[]): ProofLook {
  const shows = standing.complaint?.shows ?? []
  if (shows.length === 0) return functionCheck(system, cells.length)
  const chances = shows.map((show) => shownBy(system, standing, cells, show))
  const once = cells.map((_, i) => chances.reduce((all, { shown }) => all * (1 - shown[i]), 1))
  const looks = looksFor(cells, once)
  const tests = chances.map(({ test }) => test)
  const from = { setup: tests[0].setup, places: tests[0].places }
  const rest = tests.slice(1).reduce(
    ({ minutes, at }, test) => ({
      minutes: minutes + minutesFor(system, test, at),
      at: { setup: test.setup, places: test.places },
    }),
    { minutes: tests[0].minutes, at: from },
  )
  return { at: rest.at, minutes: rest.minutes * looks, looks, missed: once.map((chance) => chance ** looks) }
}

type Show = NonNullable<Standing['complaint']>['shows'][number]

function shownBy(
  system: System,
  standing: Standing,
  cells: readonly WeighedCell[],
  { state, part: name, look: lookName, word }: Show,
) {
  const part = system.parts.get(name)
  const look = part?.kind.looks?.find((one) => one.name === lookName)
  if (!part || !look) throw new RangeError(`the complaint speaks of '${name}.${lookName}', which is no look of this machine`)
  const probe: TestProbe = { kind: 'look', part, look }
  const test = testOf(system, { state }, probe)
  const at = look.words.indexOf(word)
  const shown = cells.map(({ cell }) => {
    const [seen] = predictCell(standing, cell, test.setup, [probe])
    return withMisread(seen, ASSUMPTIONS.lookError).words[at] ?? 0
  })
  return { test, shown }
}

/** Looks enough that what is believed and can be seen at all is missed once in twenty at most. */
function looksFor(cells: readonly WeighedCell[], once: readonly number[]): number {
  const seen = cells.flatMap(({ probability, faulty }, i) => (faulty && once[i] < HIDDEN ? [{ probability, miss: once[i] }] : []))
  const whole = seen.reduce((sum, { probability }) => sum + probability, 0)
  const missed = (looks: number) => seen.reduce((sum, { probability, miss }) => sum + probability * miss ** looks, 0)
  let looks = 1
  while (looks < ASSUMPTIONS.planProofLooks && missed(looks) > ASSUMPTIONS.planProofMissed * whole) looks += 1
  return looks
}

function functionCheck(system: System, cells: number): ProofLook {
  const [parked] = system.states.keys()
  let minutes = 0
  let at = parked
  for (const state of system.states.values()) {
    if (state.dead) continue
    minutes += stateMinutes(system, at, state.name) + ASSUMPTIONS.looksRoundMinutes
    at = state.name
  }
  return { at: { setup: { state: at }, places: [] }, minutes, looks: 1, missed: Array(cells).fill(ASSUMPTIONS.lookError) }
}
