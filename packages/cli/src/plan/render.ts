import type { Plan, PlanBranch, PlanStep } from '@halfsplit/procedure'
import type { System } from '@halfsplit/system'
import { capital, columns, wrap } from '../words/layout.js'
import { repairTitle } from '../words/suspects.js'
import { minutesWords } from '../words/states.js'
import { firstWords, leadsWords, shortWords } from '../words/test-words.js'
import { nextWords, outcomeWords } from './outcome-words.js'

/** What comes out more rarely is one row: a slip, or a fault that only chance brings here. */
const RARE = 0.001

/** The steps as a table to print: number, what to set up, where the leads go; what it shows, how often, and where to go then. */
export function stepLines(system: System, plan: Plan): string[] {
  if (plan.first.kind !== 'step') return [capital(nextWords(plan.first))]
  return plan.steps.flatMap((step) => [...headLines(system, plan, step), ...branchLines(step), '']).slice(0, -1)
}

function headLines(system: System, plan: Plan, one: PlanStep): string[] {
  const number = String(one.number).padStart(3)
  const texts = wrap(doWords(system, plan, one).join(' '), 100, '     ')
  return texts.map((text, i) => (i === 0 ? `${number}  ${text.trimStart()}` : text))
}

function doWords(system: System, { proof }: Plan, { step, from }: PlanStep): string[] {
  if (step.kind === 'test') return [...firstWords(system, from, step.test), `${capital(leadsWords(system, step.test.probe))}.`]
  const looks =
    proof.looks > 1 ? `Prove it: ${proof.looks} good looks at the complaint.` : 'Prove it: look at the complaint again.'
  return [`${capital(step.repair)}: ${repairTitle(system, step.repair)}.`, looks]
}

function branchLines(step: PlanStep): string[] {
  const shown = step.branches.filter(({ share }) => share >= RARE)
  const rows = shown.map((branch) => [
    outcomeWords(step, branch),
    branch.sound ? 'sound' : '',
    percent(branch.share),
    nextWords(branch.next),
  ])
  if (step.step.kind === 'repair') {
    const left = step.branches.reduce((sum, { share }) => sum + share, 0)
    rows.unshift(['cured', '', percent(step.share - left), 'done'])
  } else if (shown.length < step.branches.length) rows.push(['anything else', '', '', 'take it again; then go on with isolate'])
  return columns(rows, '       ')
}

const percent = (share: number): string => `${(100 * share).toFixed(share < 0.0995 ? 1 : 0)} %`.padStart(6)

/** The same as a tree: each branch under its step, the likeliest first. */
export function treeLines(system: System, plan: Plan): string[] {
  const byNumber = new Map(plan.steps.map((step) => [step.number, step]))
  const lines: string[] = []
  const add = (step: PlanStep, indent: string) => {
    lines.push(`${indent}${step.number} ${inShort(system, step)} (${minutesWords(step.minutes)})`)
    for (const branch of step.branches.filter(({ share }) => share >= RARE)) {
      const next = branch.next.kind === 'step' ? byNumber.get(branch.next.number) : undefined
      lines.push(`${indent}  ${branchWords(step, branch)}${next ? '' : `: ${nextWords(branch.next)}`}`)
      if (next) add(next, `${indent}    `)
    }
  }
  const first = plan.first.kind === 'step' ? byNumber.get(plan.first.number) : undefined
  if (first) add(first, '')
  else lines.push(capital(nextWords(plan.first)))
  return lines
}

const branchWords = (step: PlanStep, branch: PlanBranch): string =>
  `${outcomeWords(step, branch)}${branch.sound ? ' (sound)' : ''}, ${percent(branch.share).trim()}`

function inShort(system: System, { step }: PlanStep): string {
  return step.kind === 'test' ? shortWords(step.test) : `${step.repair}: ${repairTitle(system, step.repair)}`
}
