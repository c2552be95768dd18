import { Bench } from '@halfsplit/diagnosis'
import { planOf } from '@halfsplit/procedure'
import { EXIT, type ExitCode } from '../exit-codes.js'
import { loadSystem } from '../files.js'
import { type Io, paint, whileWorking } from '../io.js'
import { complaintNamed } from '../isolate/intake.js'
import { planDocument } from '../plan/document.js'
import { figureLines } from '../plan/figures.js'
import { stepLines, treeLines } from '../plan/render.js'
import { Stop } from '../stop.js'

export interface PlanCommandOptions {
  complaint?: string
  tree?: boolean
  steps?: string
  json?: boolean
}

const MOST_STEPS = 1000

/** The whole procedure for a complaint, or for any fault of the machine: steps to print, or a tree, and what it comes to. */
export function planCommand(io: Io, file: string, options: PlanCommandOptions): ExitCode {
  const { system, warnings } = loadSystem(file)
  if (warnings) io.err(`${warnings}\n`)
  const complaint = options.complaint === undefined ? undefined : complaintNamed(system, options.complaint)
  const steps = options.steps === undefined ? undefined : stepsIn(options.steps)
  const plan = whileWorking(io, () => planOf(new Bench(system), complaint, { steps }))
  if (options.json) {
    io.out(`${JSON.stringify(planDocument(system, plan), null, 2)}\n`)
    return EXIT.ok
  }
  const print = paint(io.colour)
  const body = options.tree ? treeLines(system, plan) : stepLines(system, plan)
  io.out(
    `${[...heading(system.title, complaint?.words, print.bold), '', ...body, '', ...figureLines(system, plan)].join('\n')}\n`,
  )
  return EXIT.ok
}

function heading(title: string, words: string | undefined, bold: (text: string) => string): string[] {
  if (words === undefined)
    return [
      bold(`${title}: one of its faults, from the start`),
      'Nothing is known but that something is wrong. The machine is parked.',
    ]
  return [bold(`${title}: ${words}`), 'The complaint has been seen as the owner says; if it can not be seen, go on with isolate.']
}

function stepsIn(text: string): number {
  const steps = Number(text)
  if (Number.isInteger(steps) && steps >= 1 && steps <= MOST_STEPS) return steps
  throw new Stop(EXIT.usage, `--steps takes a whole number from 1 to ${MOST_STEPS}; received "${text}"`)
}
