/** A worked example as its file gives it, and the judgement of what was computed for it. */

import { differences } from './posterior-compare.js'
import type { CaseResult } from './runner.js'

export interface WorkedExample {
  id: string
  topic: string
  inputs: unknown
  expected: { name: string; value: unknown; tolerance: number | number[] }[]
}

/** Computed values by the expected name; a string says why the example can't be done. */
export type Answers = Record<string, unknown> | string

/** Whether a value is a list of sets of names, whose order means nothing. */
function isSets(value: unknown): value is string[][] {
  return Array.isArray(value) && value.every((set) => Array.isArray(set) && set.every((name) => typeof name === 'string'))
}

function canonical(value: unknown): unknown {
  if (!isSets(value)) return value
  return value.map((set) => [...set].sort()).sort((a, b) => (a.join() < b.join() ? -1 : 1))
}

/** Passed only where every expected value was computed and agrees; what could not be computed is skipped, with the reason. */
export function judgeExample({ id, expected }: WorkedExample, answers: Answers): CaseResult {
  if (typeof answers === 'string') return { id, outcome: 'skipped', detail: answers }
  const found = expected
    .filter(({ name }) => name in answers)
    .flatMap(({ name, value, tolerance }) => differences(canonical(answers[name]), canonical(value), tolerance, name))
  if (found.length > 0) return { id, outcome: 'failed', detail: found.slice(0, 5).join('; ') }
  const missing = expected.filter(({ name }) => !(name in answers)).map(({ name }) => name)
  if (missing.length > 0) return { id, outcome: 'skipped', detail: `not computed yet: ${missing.join(', ')}` }
  return { id, outcome: 'passed' }
}

/** Names in a phrase such as `W1, W2 and W3`. */
export function namesIn(phrase: string): string[] {
  return phrase.split(/\s*,\s*|\s+and\s+/).filter((name) => name !== '')
}

/** Number at the marked place of a pattern, or null where the text does not say. */
export function numberIn(text: string, pattern: RegExp): number | null {
  const match = pattern.exec(text)
  return match === null ? null : Number(match[1])
}
