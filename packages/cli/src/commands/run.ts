import { NetworkError } from '@halfsplit/network'
import { type NoRest, Realiser } from '@halfsplit/system'
import { EXIT, type ExitCode } from '../exit-codes.js'
import { loadSystem, writeResult } from '../files.js'
import { type Io, paint, whileWorking } from '../io.js'
import { chartOf } from '../run/chart.js'
import { columnsOf } from '../run/columns.js'
import { csvOf } from '../run/csv.js'
import { differencesOf } from '../run/differences.js'
import { runDocument } from '../run/document.js'
import { happeningsOf } from '../run/happenings.js'
import { type MachineRun, rowTimes, runMachine } from '../run/machine-run.js'
import { faultWords, type Outcome, reportText } from '../run/report.js'
import { requestOf, type RunOptions, type RunRequest } from '../run/request.js'
import { Stop } from '../stop.js'
import { listed } from '../words/layout.js'

/** A scenario over time: events, where healthy and faulted part, and what is watched as a table and a chart. */
export function runCommand(io: Io, file: string, options: RunOptions): ExitCode {
  const { system, warnings } = loadSystem(file)
  if (warnings) io.err(`${warnings}\n`)
  const request = requestOf(system, options)
  const outcome = whileShown(io, () => outcomeOf(io, request))
  const times = rowTimes(request)
  if (options.csv !== undefined) writeResult(options.csv, csvOf(times, columnSets(outcome)))
  if (options.chart !== undefined) writeResult(options.chart, chartText(outcome, times))
  if (options.json) io.out(`${JSON.stringify(runDocument(outcome, times), null, 2)}\n`)
  else io.out(reportText(outcome, paint(io.colour)))
  const { healthy, faulted } = outcome
  return [healthy, faulted].some((run) => run?.march.status === 'no convergence') ? EXIT.noRest : EXIT.ok
}

/** With how far it has come where somebody looks on, else with a word that it takes a moment; gone again however it ends. */
function whileShown<T>(io: Io, task: () => T): T {
  if (!io.progress) return whileWorking(io, task)
  try {
    return task()
  } finally {
    io.progress(1)
  }
}

/** The healthy machine always, and the faulted one laid over it. */
function outcomeOf(io: Io, request: RunRequest): Outcome {
  const { system, watch, faults } = request
  const realiser = new Realiser(system)
  const machines = faults.length > 0 ? 2 : 1
  const progress = (nth: number) => (share: number) => io.progress?.((nth + share) / machines)
  const healthy = settled(runMachine(request, realiser, [], progress(0)), 'the healthy machine')
  const faulted = faults.length > 0 ? settled(runSafely(request, realiser, progress(1)), 'the machine with the fault') : undefined
  return {
    request,
    healthy,
    faulted,
    differences: faulted ? differencesOf(healthy, faulted) : [],
    columns: { healthy: columnsOf(system, healthy, watch), ...(faulted ? { faulted: columnsOf(system, faulted, watch) } : {}) },
  }
}

/** A fault that comes while the machine runs may bolt two sources together: nothing can be computed of that. */
function runSafely(request: RunRequest, realiser: Realiser, progress: (share: number) => void): MachineRun | NoRest {
  try {
    return runMachine(request, realiser, request.faults, progress)
  } catch (error) {
    if (!(error instanceof NetworkError && error.code === 'SOURCES_CONFLICT')) throw error
    const parts = listed([...new Set(error.elements.map((id) => id.split(':')[0]))])
    throw new Stop(EXIT.noRest, `with this fault two sources work against each other; look at ${parts}`)
  }
}

function settled(run: MachineRun | NoRest, who: string): MachineRun {
  if (!('unsettled' in run)) return run
  const { status, parts } = run.unsettled
  const where = listed([...new Set(parts.map((id) => id.split(':')[0]))])
  throw new Stop(
    EXIT.noRest,
    `${who} comes to no rest in state "${run.state}" (${status}), on the way to where the scenario starts${where ? `; look at ${where}` : ''}`,
  )
}

const columnSets = ({ columns: { healthy, faulted } }: Outcome) =>
  faulted
    ? [
        { of: '', columns: faulted },
        { of: 'healthy', columns: healthy },
      ]
    : [{ of: '', columns: healthy }]

function chartText({ request, healthy, faulted, columns }: Outcome, times: readonly number[]): string {
  const { system, scenario, faults } = request
  const about = scenario.about === '' ? [] : [scenario.about]
  const legend = faulted ? [`with ${listed(faults.map(faultWords))}`, 'thick: with the fault; thin and grey: healthy'] : []
  return chartOf({
    title: `${system.title}: ${scenario.name}`,
    notes: [...about, ...legend],
    times,
    columns: columns.faulted ?? columns.healthy,
    under: faulted && columns.healthy,
    happenings: happeningsOf((faulted ?? healthy).told),
  })
}
