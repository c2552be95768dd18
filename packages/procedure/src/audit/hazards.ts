import { ASSUMPTIONS } from '@halfsplit/core'
import { type HazardStanding, type Machine, setupHazards } from '@halfsplit/diagnosis'
import type { Procedure, Step } from '../written/model.js'
import type { Complaint } from '@halfsplit/system'
import type { NoWarning } from './findings.js'
import type { Arrivals, Followed } from './follow.js'
import type { Cell } from './population.js'
import { startOf } from '../written/walk.js'

/** Something that can hurt in a step's setup. */
export interface StepHazard {
  /** As a sheet would name it: "the fan starts by itself", "R1: pressure". */
  text: string
  /** Words a warning must have some of, or half of where it is a sentence of the description. */
  title?: string
}

/**
 * What can do lasting harm in a step's setup, over all that still comes to the step: what the state says, what moves, blows or
 * starts there and not on the parked machine, by the bench's own computation, protections out of action, ohms on a live machine.
 */
export function stepHazards(machine: Machine, step: Step, arrivals: Arrivals, complaint: Complaint | undefined): StepHazard[] {
  const { system } = machine
  const { setup, probe } = step.test
  const state = system.states.get(setup.state)
  const parked = startOf(system).setup
  const { computed, handled, guards } = setupHazards({ machine, system }, standingOf(arrivals, complaint), step.test, parked)
  const brought = computed.filter(({ begins }) => begins >= ASSUMPTIONS.hazardTold)
  const lasting = [...brought, ...handled].filter(({ harm }) => harm === 'lasting')
  return [
    ...(state?.hazards ?? []).map((text) => ({ text })),
    ...lasting.map(({ part, hazard: { title } }) => ({ text: `${part.name}: ${title}`, title })),
    ...guards.map(({ part, guards: what, how }) => ({ text: `${part.name} is ${how}: it guards against ${what}` })),
    ...(probe.kind === 'ohms' && !state?.dead ? [{ text: 'ohms on a live machine' }] : []),
  ]
}

/** What still comes to a step as the bench's belief: a hypothesis a fault, each size with its weight. */
function standingOf(arrivals: Arrivals, complaint: Complaint | undefined): HazardStanding {
  const all = [...arrivals.values()].reduce((sum, weight) => sum + weight, 0) || 1
  const byFault = new Map<Cell['fault'], [Cell, number][]>([[undefined, []]])
  for (const entry of arrivals) byFault.set(entry[0].fault, [...(byFault.get(entry[0].fault) ?? []), entry])
  const groups = [...byFault]
  const sized = groups.flatMap(([fault, cells], hypothesis) => {
    if (!fault) return [{ hypothesis, faults: [], stretches: [], weight: 1 }]
    return cells.map(([cell, weight]) => ({ hypothesis, faults: cell.present.faults.slice(0, 1), stretches: [], weight }))
  })
  const probability = groups.map(([, cells]) => cells.reduce((sum, [, weight]) => sum + weight, 0) / all)
  return {
    hypotheses: groups.map(([fault], h) => ({
      id: fault?.id ?? 'nothing wrong',
      faults: fault ? [fault] : [],
      absent: false,
      weight: probability[h],
    })),
    sized,
    belief: {
      probability: Float64Array.from(probability),
      cellProbability: Float64Array.from(sized, ({ weight }) => weight / all),
    },
    actions: [],
    groups: [],
    complaint,
  }
}

/** Steps whose setup can hurt in a way that neither the step nor the head of the sheet warns of. */
export function missingWarnings(
  machine: Machine,
  { steps, warnings }: Procedure,
  { arrivals }: Followed,
  complaint: Complaint | undefined,
): NoWarning[] {
  return steps.flatMap((step) => {
    const given = [...warnings, ...step.warnings]
    const found = stepHazards(machine, step, arrivals.get(step.id) ?? new Map(), complaint)
    const hazards = withoutRepeats(found.filter((hazard) => !given.some((warning) => warnsOf(warning, hazard))))
    return hazards.length > 0 ? [{ kind: 'no warning', step, hazards }] : []
  })
}

/** What the description says in a sentence is not said once more in a word; the same at several parts is said once. */
function withoutRepeats(hazards: readonly StepHazard[]): string[] {
  const sentences = hazards.filter(({ title }) => title === undefined)
  const titled = hazards.filter(
    ({ title }, i) =>
      title !== undefined &&
      !sentences.some(({ text }) => warnsOf(text, { text: '', title })) &&
      hazards.findIndex((other) => other.title === title) === i,
  )
  return [...sentences, ...titled].map(({ text }) => text)
}

/** Words that say nothing of what can hurt. */
const SMALL = new Set([
  'the',
  'and',
  'with',
  'from',
  'that',
  'this',
  'then',
  'than',
  'itself',
  'under',
  'near',
  'over',
  'can',
  'not',
  'let',
  'its',
  'parts',
])
/** Letters by which two words are the same: "starts", "start", "starting". */
const STEM = 5
/** Share of the words of a sentence that a warning must have. */
const ENOUGH = 0.5

/** Whether a warning speaks of a hazard: it has a word of its title, or half of the words that matter of its sentence. */
export function warnsOf(warning: string, { text, title }: StepHazard): boolean {
  const said = new Set(stems(warning))
  if (title !== undefined) return stems(title).some((stem) => said.has(stem))
  // What stands after a colon is what to do about it, not what it is.
  const meant = stems(text.split(': ')[0])
  return meant.filter((stem) => said.has(stem)).length >= ENOUGH * meant.length
}

const stems = (text: string): string[] =>
  [...new Set(text.toLowerCase().match(/\p{L}{3,}/gu) ?? [])]
    .filter((word) => !SMALL.has(word))
    .map((word) => word.slice(0, STEM))
