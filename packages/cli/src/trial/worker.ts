import { parentPort, workerData } from 'node:worker_threads'
import { Bench } from '@halfsplit/diagnosis'
import { type JobOutcome, Trial } from '@halfsplit/procedure'
import { loadSystem } from '../files.js'
import { sheetsBeside } from './sheets.js'
import type { Table } from './tables.js'

/** What a worker is given at its start. */
export interface WorkerData {
  file: string
  tables: readonly Table[]
}

/** One job to work: which table, which job of it. */
export interface Task {
  table: number
  index: number
}

/** A job that was worked; without an outcome where no drawn machine showed a complaint of the description. */
export interface Done extends Task {
  outcome?: JobOutcome
}

const { file, tables } = workerData as WorkerData
const { system } = loadSystem(file)
// One bench for all jobs: what it has computed for one serves the next.
const bench = new Bench(system)
const sheets = sheetsBeside(file, system)
const trials = new Map<number, Trial>()

parentPort?.on('message', ({ table, index }: Task) => {
  const { setting, ways } = tables[table]
  const trial = trials.get(table) ?? new Trial(system, setting, bench, sheets)
  trials.set(table, trial)
  const done: Done = { table, index, outcome: trial.work(index, ways) }
  parentPort?.postMessage(done)
})
