import { ASSUMPTIONS } from '@halfsplit/core'
import { Bench, money } from '@halfsplit/diagnosis'
import {
  bestTelling,
  type Confusion,
  confusions,
  type JobOutcome,
  minutesOfOneTest,
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
      left: outcomes.filter(({ ways: { bench: worked } }) => worked?.end === 'proved' && worked.left.length > 0),
      confusions: confusions(outcomes)
        .slice(0, MOST_CONFUSIONS)
        .map((one) => judged(system, own, one)),
    }
  })
}

function judged(system: System, bench: () => Bench, confusion: Confusion): Judged {
  const { isRepair, cure, instead, complaints } = confusion
  if (!isRepair || cure.includes(' and ')) return { ...confusion, blind: false }
  const telling = bestTelling(bench(), { shows: complaintNamed(system, complaints[0][0]).shows }, cure, instead)
  return { ...confusion, telling, blind: telling !== undefined && telling.bits < ASSUMPTIONS.blindBits }
}
