import { ASSUMPTIONS } from '@halfsplit/core'
import { type Harm, type Hazard, type HazardTitle, harmOf, hazardWords, wireBears } from '@halfsplit/kinds'
import type { Part, System } from '@halfsplit/system'
import { type Believed, believedFaults, type HazardBench, type HazardStanding } from './believed.js'
import { HazardStudy, type Moment } from './study.js'

/** What a fault that is still believed could bring about if the machine is used. */
export type MoveConsequence =
  /** It does what it should not, or has lost what holds it. */
  | { kind: 'does' | 'loses'; part: Part; hazard: Hazard }
  /** A wire carries more than it bears, and nothing opens. */
  | { kind: 'overheats'; part: Part }
  /** Opens for good: a fuse, a coil. */
  | { kind: 'opens'; part: Part }
  /** The fault may lie in what protects from something; whether it still does is not known. */
  | { kind: 'unguarded'; part: Part; guards: string }

export interface MoveHazard {
  consequence: MoveConsequence
  harm: Harm
  probability: number
  /** States in which it shows; empty where it belongs to none. */
  states: readonly string[]
  /** Repairs of the faults behind it, heaviest first. */
  mostly: readonly string[]
}

export interface MoveAdvice {
  /** `do not move`, or not known: a description of one system never says that a machine is safe. */
  verdict: 'do not move' | 'not known'
  could: readonly MoveHazard[]
  /** Share of the belief that was followed. */
  followed: number
}

/**
 * What could happen if the machine is used as it is: for the heaviest hypotheses still believed, what is otherwise than in the sound machine in
 * any state with power: something moves that should not, a wire overheats, spring brakes lose their air, a protection may be gone. What
 * the description does not contain (the road brakes, the steering) is not in it.
 */
export function safeToMove({ machine, system }: HazardBench, standing: HazardStanding): MoveAdvice {
  const study = HazardStudy.of(machine)
  const { cases, followed } = believedFaults(machine, standing)
  const states = [...system.states.values()].filter(({ dead }) => !dead).map(({ name }) => name)
  const found = new Map<string, Collected>()
  for (const one of cases) {
    if (one.repairs.length === 0) continue
    for (const part of guardsIn(one, system)) note(found, { kind: 'unguarded', part, guards: part.guards as string }, one)
    for (const state of states) {
      const [sound, moment] = [study.moment([], { state }), study.moment(one.faults, { state })]
      if (sound && moment) for (const what of differences(system, study, sound, moment)) note(found, what, one, state)
    }
  }
  const could = [...found.values()]
    .map((one) => weighed(one, followed))
    .filter((one) => one.probability >= ASSUMPTIONS.hazardTold)
  could.sort((p, q) => RANK[p.harm] - RANK[q.harm] || surmised(p) - surmised(q) || q.probability - p.probability)
  const bad = could.some(
    ({ harm, probability, consequence }) =>
      harm === 'lasting' && consequence.kind !== 'unguarded' && probability >= ASSUMPTIONS.unsafeToMove,
  )
  return { verdict: bad ? 'do not move' : 'not known', could, followed }
}

interface Collected {
  consequence: MoveConsequence
  cases: Set<Believed>
  states: Set<string>
}

/** The worst first. */
const RANK: Readonly<Record<Harm, number>> = { lasting: 0, passing: 1, damage: 2 }

/** What is worked out comes before what may be so. */
const surmised = ({ consequence }: MoveHazard): number => (consequence.kind === 'unguarded' ? 1 : 0)

const MOST_NAMED = 3

function note(found: Map<string, Collected>, consequence: MoveConsequence, one: Believed, state?: string): void {
  const title = 'hazard' in consequence ? consequence.hazard.title : ''
  const key = `${consequence.kind} ${consequence.part.name} ${title}`
  const known = found.get(key) ?? { consequence, cases: new Set(), states: new Set() }
  known.cases.add(one)
  if (state !== undefined) known.states.add(state)
  found.set(key, known)
}

function weighed({ consequence, cases, states }: Collected, followed: number): MoveHazard {
  const ranked = [...cases].sort((p, q) => q.probability - p.probability)
  return {
    consequence,
    harm: harmFrom(consequence),
    probability: ranked.reduce((sum, one) => sum + one.probability, 0) / followed,
    states: [...states],
    mostly: [...new Set(ranked.flatMap(({ repairs }) => repairs))].slice(0, MOST_NAMED),
  }
}

function harmFrom(consequence: MoveConsequence): Harm {
  // What no longer drives what it should harms nobody at once; what follows from it (an engine without its fan) is not in its words.
  if (consequence.kind === 'loses' && consequence.hazard.title === 'drives') return 'damage'
  if ('hazard' in consequence) return harmOf(consequence.hazard)
  return consequence.kind === 'opens' ? 'damage' : 'lasting'
}

const guardsIn = ({ faults }: Believed, system: System): Part[] =>
  faults.map(({ fault }) => system.parts.get(fault.part.name)).filter((part) => part?.guards !== undefined) as Part[]

/** What a machine that is driven must not lose. */
const MISSED: readonly HazardTitle[] = ['brakes', 'drives']

/** What is otherwise than in the sound machine in the same state. */
function differences(system: System, study: HazardStudy, sound: Moment, moment: Moment): MoveConsequence[] {
  const hazards = study.points.flatMap(({ part, hazard }, i): MoveConsequence[] => {
    const [was, is] = [sound.present.has(i), moment.present.has(i)]
    if (was === is) return []
    // Of what a sound machine does, the air that holds spring brakes off and what cools are missed on the road; the rest is the complaint.
    if (was) return MISSED.includes(hazard.title) ? [{ kind: 'loses', part, hazard }] : []
    return hazardWords(hazard.title).driving && hazard.title !== 'brakes' ? [{ kind: 'does', part, hazard }] : []
  })
  const opened = moment.blown
    .filter(({ part }) => !sound.blown.some((one) => one.part === part))
    .map(({ part }): MoveConsequence => ({ kind: 'opens', part: system.parts.get(part) as Part }))
  return [...hazards, ...overheated(system, sound, moment), ...opened]
}

function overheated(system: System, sound: Moment, moment: Moment): MoveConsequence[] {
  return [...moment.wires].flatMap(([name, amps]): MoveConsequence[] => {
    const part = system.parts.get(name) as Part
    const bears = wireBears(part.ratings.get('size')?.value ?? Number.POSITIVE_INFINITY)
    return amps > bears && (sound.wires.get(name) ?? 0) <= bears ? [{ kind: 'overheats', part }] : []
  })
}
