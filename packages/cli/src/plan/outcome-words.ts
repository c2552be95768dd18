import type { TestProbe } from '@halfsplit/diagnosis'
import type { PlanBranch, PlanNext, PlanStep } from '@halfsplit/procedure'
import { listed } from '../words/layout.js'
import { shownBy, span } from '../words/values.js'

/** Repairs named of a list that goes on. */
const MOST_NAMED = 3

/** What came out: words of a look, or limits as the meter shows them. */
export function outcomeWords({ step }: PlanStep, { outcome }: PlanBranch): string {
  if (outcome.kind === 'still there') return 'still there'
  if (outcome.kind === 'words') return listed(outcome.words, 'or')
  return step.kind === 'test' ? limitsWords(step.test.probe, outcome.low, outcome.high) : ''
}

/** "under 0.06 V", "0.06 to 0.19 V", "3.97 V or more", "OL". */
export function limitsWords(probe: TestProbe, low: number, high: number): string {
  if (probe.kind === 'look') return ''
  const { meter } = probe
  if (!Number.isFinite(low) && !Number.isFinite(high)) return 'any reading'
  if (!Number.isFinite(low)) return `under ${shownBy(meter, high)}`
  const from = shownBy(meter, low)
  if (!Number.isFinite(high)) return from === 'OL' ? from : `${from} or more`
  return span(from, shownBy(meter, high))
}

/** Where a branch leads. */
export function nextWords(next: PlanNext): string {
  if (next.kind === 'step') return `go to ${next.number}`
  if (next.kind === 'end') return 'nothing found that is worth a repair: stop, and note what to watch for'
  return `in this order until it is cured: ${restWords(next.repairs)}`
}

function restWords(repairs: readonly string[]): string {
  const named = repairs.slice(0, MOST_NAMED)
  const more = repairs.length - named.length
  return more > 0 ? `${named.join(', ')} and ${more} more` : listed(named)
}
