import type { Graze } from '@halfsplit/network'
import type { MachineRun } from './machine-run.js'
import { checkRun } from './checks.js'
import { wordAt, type Column } from './columns.js'
import { happeningsOf } from './happenings.js'
import { remarksOf } from './remarks.js'
import { faultWords, type Outcome } from './report.js'

/** A run as one JSON document: docs/reference/json.md, `halfsplit-run/1`. */
export function runDocument({ request, healthy, faulted, differences, columns }: Outcome, times: readonly number[]) {
  const { system, scenario, every, seed, faults } = request
  const machine = (run: MachineRun, own: readonly Column[]) => ({
    status: run.march.status,
    end: run.march.end,
    events: run.told.map(({ time, kind, part, text, value = null, dimension = null }) => ({
      time,
      kind,
      part,
      text,
      value,
      dimension,
    })),
    inWords: happeningsOf(run.told).map(({ text }) => text),
    remarks: remarksOf(system, run),
    period: run.march.period ?? null,
    checks: checkRun(system, run).map(({ check, outcome, text, seen, leak = null }) => ({
      name: check.name,
      clause: check.clause,
      outcome,
      text,
      seen,
      leak,
    })),
    grazes: run.march.grazes.map(({ time, signal, overdrive }: Graze) => ({ time, signal, overdrive })),
    lookResolution: run.resolution,
    columns: own.map(columnDocument),
  })
  return {
    format: 'halfsplit-run/1',
    machine: { name: system.name, title: system.title, hash: system.hash },
    scenario: scenario.name,
    from: scenario.from,
    duration: scenario.duration,
    every,
    seed,
    faults: faults.map((one) => ({
      part: one.fault.part,
      mode: one.fault.mode,
      other: one.fault.other ?? null,
      severity: one.fault.severity ?? null,
      dimension: one.dimension ?? null,
      text: faultWords(one),
    })),
    times,
    healthy: machine(healthy, columns.healthy),
    faulted: faulted ? machine(faulted, columns.faulted ?? []) : null,
    differences: differences.map(({ what, alike, healthy: sound = null, faulted: other = null, otherwise = null }) => ({
      what,
      alike,
      healthy: sound,
      faulted: other,
      otherwise,
    })),
  }
}

function columnDocument(column: Column) {
  const { watched, dimension = null, values } = column
  const at = (value: number, row: number) => (Number.isNaN(value) ? null : dimension === null ? wordAt(column, row) : value)
  return { name: watched.name, dimension, values: values.map(at) }
}
