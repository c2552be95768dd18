import type { System } from '@halfsplit/system'
import type { Judged, Summary } from './summary.js'

/** The JSON form: docs/reference/json.md, `halfsplit-trial/1`. */
export function trialDocument(system: System, summaries: readonly Summary[]) {
  return {
    format: 'halfsplit-trial/1',
    machine: { name: system.name, title: system.title, hash: system.hash },
    tables: summaries.map(({ table, outcomes, withoutComplaint, redrawn, oneTest, tallies, bySort, plan, confusions }) => ({
      id: table.id,
      title: table.title,
      setting: table.setting,
      withoutComplaint,
      redrawn,
      oneTest,
      counted: tallies,
      bySort: bySort.map(({ sort, tallies: counted }) => ({ sort, counted })),
      plan: plan ?? null,
      confusions: confusions.map(confusionDocument),
      jobs: outcomes,
    })),
  }
}

function confusionDocument({ telling, blind, truths, complaints, ...one }: Judged) {
  const times = (words: readonly (readonly [string, number])[]) => words.map(([name, jobs]) => ({ name, jobs }))
  return {
    ...one,
    truths: times(truths),
    complaints: times(complaints),
    blind,
    telling: telling ? { test: telling.test.id, bits: telling.bits, minutes: telling.minutes } : null,
  }
}
