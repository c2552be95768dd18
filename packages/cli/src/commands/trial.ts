import { serialiseJob } from '@halfsplit/job'
import { CaseSource, Trial } from '@halfsplit/procedure'
import type { System } from '@halfsplit/system'
import { EXIT, type ExitCode } from '../exit-codes.js'
import { loadSystem } from '../files.js'
import { type Io, paint, whileWorking } from '../io.js'
import { Stop } from '../stop.js'
import { trialDocument } from '../trial/document.js'
import { coresHere, workAll } from '../trial/pool.js'
import { tableText } from '../trial/report.js'
import { summaries } from '../trial/summary.js'
import { type Table, type TrialOptions, tablesOf, wholeNumber } from '../trial/tables.js'
import type { Task } from '../trial/worker.js'

/** Many jobs on virtual machines of a described system, each worked by the bench and by its rivals, and what came of them. */
export async function trialCommand(io: Io, file: string, options: TrialOptions): Promise<ExitCode> {
  const tables = tablesOf(options)
  const workers = options.workers === undefined ? coresHere() : wholeNumber('--workers', options.workers)
  const { system } = loadSystem(file)
  if (system.complaints.length === 0)
    throw new Stop(EXIT.mistakes, `${file}: no complaint is described, and a trial draws its jobs from them; add "complaints"`)
  if (options.job !== undefined) return oneJob(io, system, tables[0], options.job)
  const done = await workAll({ file, tables }, tasksOf(system, tables), workers, (share) => io.progress?.(share))
  const counted = whileWorking(io, () => summaries(system, tables, done))
  if (options.json) io.out(`${JSON.stringify(trialDocument(system, options.seed, counted), null, 2)}\n`)
  else {
    const lines = [`${system.title}: a trial, seed ${options.seed}. In brackets: 95 % intervals.`, '']
    io.out([...lines, ...counted.flatMap((one) => tableText(one, paint(io.colour)))].join('\n'))
  }
  return EXIT.ok
}

const tasksOf = (system: System, tables: readonly Table[]): Task[] =>
  tables.flatMap(({ jobs, setting }, table) => {
    const number = jobs ?? new CaseSource(system, setting).number ?? 0
    return Array.from({ length: number }, (_, index) => ({ table, index }))
  })

/** One job of a trial, as the bench works it: the log that `isolate --job` opens. */
function oneJob(io: Io, system: System, { setting }: Table, typed: string): ExitCode {
  const index = typed.trim() === '0' ? 0 : wholeNumber('--job', typed)
  const job = whileWorking(io, () => new Trial(system, setting).job(index))
  if (!job) throw new Stop(EXIT.noRest, `job ${index}: no drawn machine shows a complaint of the description`)
  io.out(serialiseJob(job))
  return EXIT.ok
}
