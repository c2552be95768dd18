import { ASSUMPTIONS } from '@halfsplit/core'
import { Bench, money } from '@halfsplit/diagnosis'
import {
  bestTelling,
  type Confusion,
  confusions,
  type JobOutcome,
  minutesOfOneTest,
  type PlanCost,
  planCost,
  type Sort,
  SORTS,
  sortOf,
  type Tally,
  tallies,
  type Telling,
  type WayName,
} from '@halfsplit/procedure'
import type { System } from '@halfsplit/system'
import { complaintNamed } from '../isolate/intake.js'
import type { Table } from './tables.js'
import type { Done } from './worker.js'

/** What a table counted. */
export interface Summary {
  table: Table
  outcomes: readonly JobOutcome[]
  /** Jobs for which no drawn machine showed a complaint of the description. */
  withoutComplaint: number
  /** Machines that were drawn again since they showed none of the described complaints. */
  redrawn: number
  /** What one test costs [shop's money]: a part for no more is a cheap one. */
  oneTest: number
  tallies: Partial<Record<WayName, Tally>>
  /** The same for each sort of job that there is, where there are several. */
  bySort: readonly { sort: Sort; tallies: Partial<Record<WayName, Tally>> }[]
  /** What the best plan costs at the beginning of a job, over the jobs' complaints; where plans were asked for. */
  plan: PlanCost | undefined
  /** Jobs of the bench that ended with a fault left, or with a pair of which one was not found. */
  left: readonly JobOutcome[]
  confusions: readonly Judged[]
}

/** A confusion of two repairs, and the test that would tell them apart. */
export interface Judged extends Confusion {
  telling?: Telling
  /** Even the best test tells next to nothing. */
  blind: boolean
}

/** Confusions that are looked into. */
const MOST_CONFUSIONS = 10

/** Counts what the workers brought for each table. */
export function summaries(system: System, tables: readonly Table[], done: readonly Done[]): Summary[] {
  let bench: Bench | undefined
  const own = () => {
    bench ??= new Bench(system)
    return bench
  }
  return tables.map((table, t) => {
    const here = done.filter((one) => one.table === t)
    const outcomes = here.flatMap(({ outcome }) => outcome ?? [])
    const oneTest = money(minutesOfOneTest(outcomes))
    return {
      table,
      outcomes,
      withoutComplaint: here.length - outcomes.length,
      redrawn: outcomes.reduce((sum, one) => sum + one.redrawn, 0),
      oneTest,
      tallies: tallies(outcomes, oneTest),
      bySort: sorted(outcomes, oneTest),
      plan: table.ways.includes('plan') ? meanPlan(system, own(), outcomes) : undefined,
      left: outcomes.filter(({ ways: { bench: worked } }) => worked?.end === 'proved' && worked.left.length > 0),
      confusions: confusions(outcomes)
        .slice(0, MOST_CONFUSIONS)
        .map((one) => judged(system, own, one)),
    }
  })
}

function sorted(outcomes: readonly JobOutcome[], oneTest: number): Summary['bySort'] {
  const there = SORTS.map((sort) => ({ sort, own: outcomes.filter((one) => sortOf(one) === sort) })).filter(
    ({ own }) => own.length > 0,
  )
  return there.length < 2 ? [] : there.map(({ sort, own }) => ({ sort, tallies: tallies(own, oneTest) }))
}

/** Mean over the complaints, each as often as it came. */
function meanPlan(system: System, bench: Bench, outcomes: readonly JobOutcome[]): PlanCost | undefined {
  if (outcomes.length === 0) return undefined
  const costs = new Map<string, PlanCost>()
  for (const id of new Set(outcomes.map(({ complaint }) => complaint)))
    costs.set(id, planCost(bench, { shows: complaintNamed(system, id).shows }))
  const all = outcomes.flatMap(({ complaint }) => costs.get(complaint) ?? [])
  const mean = (of: (one: PlanCost) => number) => all.reduce((sum, one) => sum + of(one), 0) / all.length
  return {
    expectedCost: mean((one) => one.expectedCost),
    lowerBound: mean((one) => one.lowerBound),
    exact: all.every(({ exact }) => exact),
  }
}

function judged(system: System, bench: () => Bench, confusion: Confusion): Judged {
  const { isRepair, cure, instead, complaints } = confusion
  if (!isRepair || cure.includes(' and ')) return { ...confusion, blind: false }
  const telling = bestTelling(bench(), { shows: complaintNamed(system, complaints[0][0]).shows }, cure, instead)
  return { ...confusion, telling, blind: telling !== undefined && telling.bits < ASSUMPTIONS.blindBits }
}
