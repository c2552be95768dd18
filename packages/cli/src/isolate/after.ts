import {
  standingWithout,
  type Contribution,
  contributions,
  NOTHING_WRONG,
  type Standing,
  type WeighedTest,
} from '@halfsplit/diagnosis'
import { listed } from '../words/layout.js'
import { oddsWords } from '../words/odds.js'
import { SAYS_NOTHING, strengthWords } from '../words/strength.js'
import { shortWords } from '../words/test-words.js'
import { entryWords } from './answer.js'
import type { Case } from './case.js'
import { entryNumbers } from './record-words.js'
import { blindWhy } from './render.js'

const MOST_NAMED = 3
/** Suspects under this, before and after, are not spoken of. */
const LEAST_SPOKEN = 0.01

/** What the last reading says for and against each suspect, and what would follow if it were wrong. */
export function afterLines(open: Case, entry: number, before: WeighedTest | undefined): string[] {
  const at = entryNumbers(open).indexOf(entry)
  if (at < 0) return []
  const said = contributionLines(open, contributions(open.standing)[at], soundWithout(open.standing)[at])
  if (said.length > 1) return said
  return [`This reading cannot tell.${before ? ` ${blindWhy(open, before)}` : ''}`]
}

/** Every reading of the job with what it says. */
export function whyLines(open: Case): string[] {
  const numbers = entryNumbers(open)
  const sound = soundWithout(open.standing)
  return contributions(open.standing).flatMap((one, i) => {
    const entry = numbers[i]
    const made = entry === undefined ? undefined : open.job.entries[entry - 1]
    const head = made
      ? `${entry}. ${whatWords(open, entry)}: ${made.kind === 'look' ? made.word : entryWords(made)}`
      : 'What the owner says'
    return [head, ...contributionLines(open, one, sound[i]).map((line) => `   ${line}`)]
  })
}

/** What was read, where and in which state. */
function whatWords({ jobLog }: Case, entry: number | undefined): string {
  const item = jobLog.log[jobLog.entryOf.indexOf(entry)]
  return item?.kind === 'taken' ? shortWords(item.taken) : ''
}

/** Belief that nothing is wrong as it would be without each record, in the order of the evidence. */
function soundWithout(standing: Standing): number[] {
  const sound = standing.hypotheses.findIndex(({ id }) => id === NOTHING_WRONG)
  return standing.evidence.flatMap(({ records }, g) => records.map((_, r) => standingWithout(standing, g, r).probability[sound]))
}

/** @param soundBefore belief that nothing is wrong, without the record */
function contributionLines(
  { standing, verdict }: Case,
  { decibans, without, decisive }: Contribution,
  soundBefore: number,
): string[] {
  const sound = {
    repair: 'nothing wrong',
    probability: standing.nothingWrong,
    decibans: db(standing.nothingWrong) - db(soundBefore),
  }
  const spoken = [
    ...standing.repairs.map(({ repair, probability }) => ({ repair, probability, decibans: decibans.get(repair) ?? 0 })),
    sound,
  ].filter((one) => Math.max(one.probability, oddsBefore(one.probability, one.decibans)) >= LEAST_SPOKEN)
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
      `If wrong: ${without.repair === standing.repairs[0]?.repair ? 'still' : 'back to'} ${without.repair}, ${oddsWords(without.probability)}.${decisive && verdict.kind === 'repair' ? ' All hangs on this reading; take it again.' : ''}`,
    )
  return lines
}

/** Odds in decibans. */
const db = (p: number): number => 10 * Math.log10(Math.max(p, 1e-12) / Math.max(1 - p, 1e-12))

/** Probability without the record, from the one with it and the change of its odds. */
function oddsBefore(probability: number, decibans: number): number {
  const odds = probability / Math.max(1 - probability, 1e-12) / 10 ** (decibans / 10)
  return odds / (1 + odds)
}
