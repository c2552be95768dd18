import { ASSUMPTIONS } from '@halfsplit/core'
import { type Harm, type Hazard, HAZARDS, harmOf } from '@halfsplit/kinds'
import type { Part, System } from '@halfsplit/system'
import type { Setup } from '../setup.js'
import type { Test } from '../tests.js'
import { type Believed, type BelievedFaults, believedFaults, type HazardBench, type HazardStanding } from './believed.js'
import { concerns, type Handling, handling } from './handling.js'
import { type JumperHazard, jumperHazard } from './jumper.js'
import { type LostGuard, lostGuards } from './guards.js'
import { HazardStudy, type Moment } from './study.js'

/** A hazard that is there in a setup, or begins when it is made. */
export interface SetupHazard {
  part: Part
  hazard: Hazard
  harm: Harm
  /** Chance that it is there once the setup is made, over all that is believed and followed. */
  present: number
  /** Chance that it was not there before. */
  begins: number
  /** The sound machine does the same. */
  sound: boolean
  /** Repairs under whose faults it mostly is so, heaviest first. */
  mostly: readonly string[]
}

export interface SetupHazards {
  /** What is known by a quantity, most harmful and likeliest first. */
  computed: readonly SetupHazard[]
  /** What comes with handling a part, known by no quantity. */
  handled: readonly { part: Part; hazard: Hazard; harm: Harm }[]
  /** Current of the jumper and its fuse. */
  jumper: JumperHazard | undefined
  /** Protections that are out of action. */
  guards: readonly LostGuard[]
  /** The description's own words of the state, those left out that hold where the machine is now. */
  state: readonly string[]
  /** Share of the belief that was followed. */
  followed: number
}

/** A setup and, where one is known, what is taken in it. */
export type Advised = Pick<Test, 'setup'> & Partial<Pick<Test, 'probe'>>

/**
 * What would move, heat, vent or start when a setup is made, over the heaviest hypotheses that are still believed, each at its likeliest
 * size and with every tolerance in the middle: the machine is solved under each, before and after.
 * @param from setup that the machine is in now; left out where nobody has been at it yet: all that is there begins
 * Cost: one solve for each hypothesis that was not asked of in this setup before.
 */
export function setupHazards({ machine }: HazardBench, standing: HazardStanding, advised: Advised, from?: Setup): SetupHazards {
  const study = HazardStudy.of(machine)
  const believed = believedFaults(machine, standing)
  const ways = handling(machine.system, advised)
  const { setup } = advised
  return {
    computed: computedHazards(study, believed, ways, setup, from),
    handled: handledHazards(machine.system, ways),
    jumper: setup.intervention?.do === 'jumper' ? jumperHazard(machine.system, study, believed, setup) : undefined,
    guards: lostGuards(machine.system, study, setup),
    state: newWords(machine.system, setup, from),
    followed: believed.followed,
  }
}

/** What a description says of a state and did not say of the state before. */
function newWords({ states }: System, to: Setup, from: Setup | undefined): readonly string[] {
  const before = from === undefined ? [] : (states.get(from.state)?.hazards ?? [])
  return (states.get(to.state)?.hazards ?? []).filter((words) => !before.includes(words))
}

function computedHazards(
  study: HazardStudy,
  { cases }: BelievedFaults,
  ways: Handling,
  setup: Setup,
  from: Setup | undefined,
): SetupHazard[] {
  const moments = cases.map((one) => ({
    one,
    before: from && study.moment(one.faults, from),
    after: study.moment(one.faults, setup),
  }))
  const known = moments.filter(({ after }) => after !== undefined)
  const whole = known.reduce((sum, { one }) => sum + one.probability, 0)
  if (whole === 0) return []
  const found = study.points.flatMap(({ part, hazard }, i) => {
    if (HAZARDS[hazard.title].reach === 'part' && !concerns(hazard, ways.get(part.name))) return []
    const there = known.filter(({ after }) => after?.present.has(i))
    const sum = (some: readonly { one: Believed }[]) => some.reduce((total, { one }) => total + one.probability, 0) / whole
    const sound = there.some(({ one }) => one.repairs.length === 0)
    const present = sum(there)
    if (present < ASSUMPTIONS.hazardTold && !sound) return []
    const begins = sum(there.filter(({ before }) => !before?.present.has(i)))
    return [{ part, hazard, harm: harmOf(hazard), present, begins, sound, mostly: mostly(there) }]
  })
  return found.sort((p, q) => RANK[p.harm] - RANK[q.harm] || q.begins - p.begins || q.present - p.present)
}

/** The worst first. */
const RANK: Readonly<Record<Harm, number>> = { lasting: 0, passing: 1, damage: 2 }

/** Suspects that are named where a hazard hangs on the fault. */
const MOST_NAMED = 3

const mostly = (there: readonly { one: Believed; after?: Moment }[]): string[] =>
  [...new Set([...there].sort((p, q) => q.one.probability - p.one.probability).flatMap(({ one }) => one.repairs))].slice(
    0,
    MOST_NAMED,
  )

function handledHazards(system: System, ways: Handling): SetupHazards['handled'] {
  return [...ways].flatMap(([name, way]) => {
    const part = system.parts.get(name)
    return (part?.kind.hazards ?? [])
      .filter((hazard) => part && !hazard.present && concerns(hazard, way))
      .map((hazard) => ({ part: part as Part, hazard, harm: harmOf(hazard) }))
  })
}
