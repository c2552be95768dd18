import { type JobOutcome, type Tally, WAYS } from '@halfsplit/procedure'
import type { System } from '@halfsplit/system'
import type { Judged, Summary } from './summary.js'

/** The JSON form: docs/reference/json.md, `halfsplit-trial/1`. */
export function trialDocument(system: System, seed: string, summaries: readonly Summary[]) {
  const { name, title, hash } = system
  return { format: 'halfsplit-trial/1', machine: { name, title, hash }, seed, tables: summaries.map(tableDocument) }
}

function tableDocument(summary: Summary) {
  const { table, withoutComplaint, redrawn, oneTest, tallies, bySort, plan, confusions, outcomes } = summary
  const { faults, mismatch, falsified } = table.setting
  return {
    id: table.id,
    title: table.title,
    faults: typeof faults === 'object' ? `each two of ${faults.pairsOf} repairs` : faults,
    mismatch: mismatch ?? null,
    falsified: falsified ?? 0,
    withoutComplaint,
    redrawn,
    oneTest,
    counted: countedDocument(tallies),
    bySort: bySort.map(({ sort, tallies: own }) => ({ sort, counted: countedDocument(own) })),
    plan: plan ?? null,
    confusions: confusions.map(confusionDocument),
    jobs: outcomes.map(jobDocument),
  }
}

const countedDocument = (tallies: Summary['tallies']) =>
  WAYS.flatMap((way) => {
    const tally = tallies[way]
    return tally ? [{ way, ...tallyDocument(tally) }] : []
  })

function tallyDocument({ ends, notDescribed, ...tally }: Tally) {
  return {
    ...tally,
    ends: {
      proved: ends.proved,
      noFaultFound: ends['no fault found'],
      notDescribed: ends['not described'],
      givenUp: ends['given up'],
    },
    notDescribed: notDescribed ?? null,
  }
}

function confusionDocument({ telling, truths, complaints, ...one }: Judged) {
  const times = (words: readonly (readonly [string, number])[]) => words.map(([name, jobs]) => ({ name, jobs }))
  return {
    ...one,
    truths: times(truths),
    complaints: times(complaints),
    telling: telling ? { test: telling.test.id, bits: telling.bits, minutes: telling.minutes } : null,
  }
}

function jobDocument({ ways, ...job }: JobOutcome) {
  return {
    ...job,
    worked: WAYS.flatMap((way) => {
      const worked = ways[way]
      return worked ? [{ way, ...worked }] : []
    }),
  }
}
