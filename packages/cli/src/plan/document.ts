import type { Plan, PlanBranch, PlanStep } from '@halfsplit/procedure'
import type { System } from '@halfsplit/system'
import { leadsWords } from '../words/test-words.js'
import { nextWords, outcomeWords } from './outcome-words.js'

/** The JSON form: docs/reference/json.md, `halfsplit-plan/1`. */
export function planDocument(system: System, plan: Plan) {
  const { steps, complaint, ...rest } = plan
  return {
    format: 'halfsplit-plan/1',
    machine: { name: system.name, title: system.title, hash: system.hash },
    complaint: complaint ?? null,
    ...rest,
    steps: steps.map((step) => stepDocument(system, step)),
  }
}

function stepDocument(system: System, one: PlanStep) {
  const { number, step, share, minutes, repairs } = one
  const isTest = step.kind === 'test'
  return {
    number,
    kind: step.kind,
    test: isTest ? step.test.id : null,
    leads: isTest ? leadsWords(system, step.test.probe) : null,
    repair: isTest ? null : step.repair,
    share,
    minutes,
    repairs,
    branches: one.branches.map((branch) => branchDocument(one, branch)),
  }
}

/** Limits [SI]; null where a stretch has no end. */
function branchDocument(step: PlanStep, branch: PlanBranch) {
  const { outcome, share, sound, next } = branch
  const isReading = outcome.kind === 'reading'
  const finite = (value: number) => (Number.isFinite(value) ? value : null)
  return {
    shows: outcomeWords(step, branch),
    words: outcome.kind === 'words' ? outcome.words : null,
    low: isReading ? finite(outcome.low) : null,
    high: isReading ? finite(outcome.high) : null,
    share,
    sound,
    then: nextWords(next),
    next: next.kind === 'step' ? next.number : null,
    repairs: next.kind === 'rest' ? next.repairs : [],
  }
}
