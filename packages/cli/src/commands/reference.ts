import { existsSync, statSync } from 'node:fs'
import { fileURLToPath } from 'node:url'
import { EXIT, type ExitCode } from '../exit-codes.js'
import type { Io } from '../io.js'
import { circuits } from '../reference/circuits.js'
import { simulation } from '../reference/simulation.js'
import { handbook } from '../reference/handbook.js'
import { iscas85 } from '../reference/iscas85.js'
import { nextTest } from '../reference/next-test.js'
import { plan } from '../reference/plan.js'
import { posterior } from '../reference/posterior.js'
import { reliability } from '../reference/reliability.js'
import { repair } from '../reference/repair.js'
import type { CaseResult, Runner } from '../reference/runner.js'
import { setupPlan } from '../reference/setup-plan.js'
import { tripPoint } from '../reference/trip-point.js'
import { workedExamples } from '../reference/worked-examples.js'
import { Stop, unknownName } from '../stop.js'

/** Kinds of reference cases: the runner, and the folder in the project's `reference/`; none where the project may not hold the cases. */
const KINDS: Readonly<Record<string, { run: Runner; folder?: string }>> = {
  circuits: { run: circuits, folder: 'circuits' },
  simulation: { run: simulation, folder: 'oracle-cases' },
  handbook: { run: handbook, folder: 'handbook' },
  iscas85: { run: iscas85 },
  'next-test': { run: nextTest, folder: 'oracle-cases' },
  plan: { run: plan, folder: 'oracle-cases' },
  posterior: { run: posterior, folder: 'oracle-cases' },
  reliability: { run: reliability, folder: 'oracle-cases' },
  repair: { run: repair, folder: 'oracle-cases' },
  'setup-plan': { run: setupPlan, folder: 'oracle-cases' },
  'trip-point': { run: tripPoint, folder: 'oracle-cases' },
  'worked-examples': { run: workedExamples, folder: 'worked-examples' },
}

export const REFERENCE_KINDS: readonly string[] = Object.keys(KINDS)

const projectFolder = (name: string): string => fileURLToPath(new URL(`../../../../reference/${name}`, import.meta.url))

/** Runs all cases of a kind; the last line is `N passed, N failed`, with the skipped ones after it. */
export function referenceCommand(io: Io, kind: string, directory: string | undefined, { json }: { json?: boolean }): ExitCode {
  if (!Object.hasOwn(KINDS, kind)) throw unknownName('kind of reference case', kind, REFERENCE_KINDS)
  const { run, folder } = KINDS[kind]
  if (directory === undefined && folder === undefined)
    throw new Stop(
      EXIT.usage,
      `the ${kind} cases are not part of the project: give their folder, as in "reference ${kind} FOLDER"`,
    )
  const from = directory ?? projectFolder(folder as string)
  if (!existsSync(from) || !statSync(from).isDirectory())
    throw new Stop(EXIT.file, `cannot read ${from}: there is no such folder`)
  const results = casesOf(run, from)
  const counts = { passed: count(results, 'passed'), failed: count(results, 'failed'), skipped: count(results, 'skipped') }
  if (json)
    io.out(`${JSON.stringify({ format: 'halfsplit-reference/1', kind, ...counts, cases: results.map(caseDocument) }, null, 2)}\n`)
  else io.out(`${[...results.filter((one) => one.outcome !== 'passed').map(caseLine), lastLine(counts)].join('\n')}\n`)
  if (results.length === 0) throw new Stop(EXIT.mistakes, `no ${kind} cases in ${from}`)
  return counts.failed > 0 ? EXIT.mistakes : EXIT.ok
}

/** A file of the folder that is not what it claims to be is a mistake of the input, named. */
function casesOf(run: Runner, folder: string): CaseResult[] {
  try {
    return run(folder)
  } catch (error) {
    const isFile = typeof (error as NodeJS.ErrnoException).code === 'string' && 'syscall' in (error as object)
    if (isFile) throw new Stop(EXIT.file, `cannot read the cases in ${folder}: ${(error as Error).message}`)
    if (error instanceof SyntaxError) throw new Stop(EXIT.mistakes, `a file in ${folder} is not JSON: ${error.message}`)
    throw error
  }
}

const count = (results: readonly CaseResult[], outcome: CaseResult['outcome']): number =>
  results.filter((one) => one.outcome === outcome).length

const caseLine = ({ id, outcome, detail }: CaseResult): string => `${outcome}: ${id}${detail ? `: ${detail}` : ''}`

const lastLine = ({ passed, failed, skipped }: Record<CaseResult['outcome'], number>): string =>
  `${passed} passed, ${failed} failed${skipped > 0 ? `, ${skipped} skipped` : ''}`

const caseDocument = ({ id, outcome, detail }: CaseResult) => ({ id, outcome, detail: detail ?? null })
