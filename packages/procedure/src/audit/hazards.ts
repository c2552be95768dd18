import { ownerOf, type Test } from '@halfsplit/diagnosis'
import type { Part, System } from '@halfsplit/system'
import type { Procedure } from '../written/model.js'
import type { NoWarning } from './findings.js'

/** What can hurt in a test's setup, each in a few words. */
export type HazardsOf = (system: System, test: Test) => readonly string[]

/** The state's own hazards, and those of what is pulled, swapped or opened for a gauge while the machine is live; ohms on a live machine. */
export const writtenHazards: HazardsOf = (system, test) => {
  const state = system.states.get(test.setup.state)
  if (state?.dead) return []
  const ohms = test.probe.kind === 'ohms' ? ['ohms on a live machine'] : []
  const own = opened(system, test).flatMap((part) => (part.kind.hazards ?? []).map(({ title }) => `${part.name}: ${title}`))
  return [...new Set([...(state?.hazards ?? []), ...own, ...ohms])]
}

function opened(system: System, { setup: { intervention }, probe }: Test): Part[] {
  const names = intervention?.do === 'unplug' ? intervention.parts : intervention?.do === 'swap' ? [intervention.part] : []
  const parts = names.map((name) => system.parts.get(name)).filter((part) => part !== undefined)
  return probe.kind === 'pressure' ? [...parts, ownerOf(system, probe.at)] : parts
}

/** Steps whose setup can hurt in a way that neither the step nor the head of the sheet warns of. */
export function missingWarnings(system: System, { steps, warnings }: Procedure, hazardsOf: HazardsOf): NoWarning[] {
  return steps.flatMap((step) => {
    const given = [...warnings, ...step.warnings]
    const hazards = hazardsOf(system, step.test).filter((hazard) => !given.some((warning) => speaksOf(warning, hazard)))
    return hazards.length > 0 ? [{ kind: 'no warning', step, hazards }] : []
  })
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
])
/** Letters by which two words are the same: "starts", "start", "starting". */
const STEM = 5
/** Share of a hazard's words that a warning must have. */
const ENOUGH = 0.5

/** Whether a warning speaks of a hazard: it has at least half of the words that matter. */
export function speaksOf(warning: string, hazard: string): boolean {
  const said = new Set(stems(warning))
  // What the state says after a colon is what to do about it, not what it is.
  const meant = stems(hazard.includes(': ') && !/^\S+: /.test(hazard) ? hazard.split(': ')[0] : hazard.replace(/^\S+: /, ''))
  return meant.filter((stem) => said.has(stem)).length >= ENOUGH * meant.length
}

const stems = (text: string): string[] =>
  [...new Set(text.toLowerCase().match(/\p{L}{3,}/gu) ?? [])]
    .filter((word) => !SMALL.has(word))
    .map((word) => word.slice(0, STEM))
