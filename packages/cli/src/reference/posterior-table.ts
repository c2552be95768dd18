/** Reads the tables of the oracle cases: faults over components, tests with words or numbers, evidence. */

import { readFileSync } from 'node:fs'
import { join } from 'node:path'
import type { TableDescription, TableResult, TableTest } from '@halfsplit/inference'

interface TestInput {
  id: string
  kind: 'reading' | 'categorical'
  cost: number
  error_prob: number
  outcomes: string[]
  dist: Record<string, number[]>
  nominal: number
  tolerance_pct: number
  tolerance_k: number
  meter: { accuracy_pct: number; counts: number; resolution: number; range: [number, number] }
  effects: Record<string, { shift: number; spread_sd: number }>
}

export interface TableInput {
  max_faults: 1 | 2
  include_no_fault: boolean
  faults: { id: string; component: string; prior: number }[]
  tests: TestInput[]
  evidence: { test: string; result: number | string | null; error_prob: number }[]
}

/** A case of a file: `Expected` lists what it may expect. */
export interface OracleCase<Expected> {
  id: string
  input: TableInput
  input_is_case?: string
  expected: Expected
}

export function readCases<Expected>(directory: string, file: string): OracleCase<Expected>[] {
  return (JSON.parse(readFileSync(join(directory, file), 'utf8')) as { cases: OracleCase<Expected>[] }).cases
}

function testOf({ id, kind, error_prob: error, ...test }: TestInput): TableTest {
  if (kind === 'categorical') return { id, kind: 'words', error, outcomes: test.outcomes, rows: test.dist }
  const { accuracy_pct: percent, counts, resolution, range } = test.meter
  const effects = Object.entries(test.effects).map(([fault, { shift, spread_sd: spreadSd }]) => [fault, { shift, spreadSd }])
  return {
    id,
    kind: 'number',
    error,
    nominal: test.nominal,
    tolerancePercent: test.tolerance_pct,
    toleranceK: test.tolerance_k,
    meter: { top: range[1], percent, counts, resolution },
    range: { low: range[0], high: range[1] },
    effects: Object.fromEntries(effects),
  }
}

export function descriptionOf({
  faults,
  tests,
  max_faults: maxFaults,
  include_no_fault: includeNoFault,
}: TableInput): TableDescription {
  return { faults, tests: tests.map(testOf), maxFaults, includeNoFault }
}

export function resultsOf({ evidence }: TableInput): TableResult[] {
  return evidence.map(({ test, result, error_prob: error }) => ({ test, result, error }))
}
