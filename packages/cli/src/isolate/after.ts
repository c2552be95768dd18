import { type Contribution, contributions, type WeighedTest } from '@halfsplit/diagnosis'
import { listed } from '../words/layout.js'
import { oddsWords } from '../words/odds.js'
import { SAYS_NOTHING, strengthWords } from '../words/strength.js'
import { entryWords } from './answer.js'
import type { Case } from './case.js'
import { entryNumbers } from './document.js'
import { blindWhy } from './render.js'

const MOST_NAMED = 3
/** Suspects under this, before and after, are not spoken of. */
const LEAST_SPOKEN = 0.01

/** What the last reading says for and against each suspect, and what would follow if it were wrong. */
export function afterLines(open: Case, entry: number, before: WeighedTest | undefined): string[] {
  const at = entryNumbers(open).indexOf(entry)
  if (at < 0) return []
  const said = contributionLines(open, contributions(open.standing)[at])
  if (said.length > 1) return said
  return [`This reading cannot tell.${before ? ` ${blindWhy(open, before)}` : ''}`]
}

/** Every reading of the job with what it says. */
export function whyLines(open: Case): string[] {
  const numbers = entryNumbers(open)
  return contributions(open.standing).flatMap((one, i) => {
    const entry = numbers[i]
    const made = entry === undefined ? undefined : open.job.entries[entry - 1]
    const head = made ? `${entry}. ${one.record.id}: ${entryWords(made)}` : 'What the owner says'
    return [head, ...contributionLines(open, one).map((line) => `   ${line}`)]
  })
}

function contributionLines({ standing }: Case, { decibans, without, decisive }: Contribution): string[] {
  const spoken = standing.repairs
    .map(({ repair, probability }) => ({ repair, probability, decibans: decibans.get(repair) ?? 0 }))
    .filter((one) => Math.max(one.probability, oddsBefore(one.probability, one.decibans)) >= LEAST_SPOKEN)
  const line = (head: string, list: typeof spoken) =>
    list.length > 0
      ? [`${head} ${listed(list.slice(0, MOST_NAMED).map((one) => `${one.repair} (${strengthWords(one.decibans)})`))}`]
      : []
  const lines = [
    ...line(
      'For:',
      spoken.filter((one) => one.decibans >= SAYS_NOTHING).sort((a, b) => b.probability - a.probability),
    ),
    ...line(
      'Against:',
      spoken
        .filter((one) => one.decibans <= -SAYS_NOTHING)
        .sort((a, b) => oddsBefore(b.probability, b.decibans) - oddsBefore(a.probability, a.decibans)),
    ),
  ]
  if (lines.length === 0) return ['Says nothing for or against any suspect.']
  if (without)
    lines.push(
      `If wrong: back to ${without.repair}, ${oddsWords(without.probability)}.${decisive ? ' All hangs on this reading; take it again.' : ''}`,
    )
  return lines
}

/** Probability without the record, from the one with it and the change of its odds. */
function oddsBefore(probability: number, decibans: number): number {
  const odds = probability / Math.max(1 - probability, 1e-12) / 10 ** (decibans / 10)
  return odds / (1 + odds)
}
