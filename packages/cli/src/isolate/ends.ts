import type { LogNext, NoFaultFound } from '@halfsplit/diagnosis'
import { foundOnTheWay } from '@halfsplit/job'
import type { Paint } from '../io.js'
import { labelled, listed } from '../words/layout.js'
import { oddsWords } from '../words/odds.js'
import { probeWords } from '../words/test-words.js'
import type { Case } from './case.js'
import { bitsWords } from './why-suspect.js'

const MOST_EXCLUDED = 8

/** *No fault found*, where that is an honest end: what was excluded, what was not, what to note next time. */
export function noFaultLines(open: Case, { bold }: Paint): string[] {
  const found = open.noFault()
  if (!found?.reached) return []
  return [
    bold('No fault found'),
    ...labelled([
      ['Looked', lookedWords(found)],
      ['Excluded', excludedWords(found)],
      ['Not excluded', openWords(found)],
      ...found.logNext.map((one, i): [string, string] => [i === 0 ? 'Next time' : '', nextWords(one)]),
      [
        'Note',
        'when it happens: how often and how long, hot or cold, wet, bumps, what else was on, and what was done just before.',
      ],
    ]),
  ]
}

const lookedWords = ({ looks, byLuck }: NoFaultFound): string =>
  `the complaint, ${listed(looks.map(({ setup, good }) => `${good} times good in ${setup.state}`))}; hidden all that time by luck: ${oddsWords(byLuck)}.`

function excludedWords({ excluded }: NoFaultFound): string {
  if (excluded.length === 0) return 'nothing for sure.'
  const named = excluded.slice(0, MOST_EXCLUDED).map(({ repair, bits }) => `${repair} (${bitsWords(bits)})`)
  const more = excluded.length - named.length
  return `${listed([...named, ...(more > 0 ? [`${more} more`] : [])])}.`
}

const openWords = ({ open }: NoFaultFound): string =>
  open.length === 0
    ? 'nothing that comes and goes.'
    : `${listed(open.map(({ repair, share }) => `${repair} (${oddsWords(share)})`))}, if it comes and goes.`

const nextWords = ({ setup, probe, words }: LogNext): string =>
  `${probeWords(probe)}, in ${setup.state}: ${words.map(({ word, repairs }) => `${word} if ${listed(repairs, 'or')}`).join('; ')}.`

/** Defects met on the way. */
export function foundLines({ job }: Case): string[] {
  const found = foundOnTheWay(job)
  if (found.length === 0) return []
  return [
    'Found on the way, not the cause of the complaint',
    ...labelled(
      found.map(({ number, entry }): [string, string] => [`${number}`, `${entry.part ? `${entry.part}: ` : ''}${entry.text}`]),
    ),
  ]
}

/** What this job comes back from: what was read and repaired then, and how long ago. */
export function comebackLines({ comeback }: Case): string[] {
  if (!comeback) return []
  const { ageDays, repairs, readings } = comeback
  const done = repairs.length > 0 ? `${listed(repairs)} done` : 'nothing repaired'
  return [
    `Comeback after ${daysWords(ageDays)}: ${done}, ${readings} reading${readings === 1 ? '' : 's'} then. They say what the machine was then.`,
  ]
}

const daysWords = (days: number): string => (days < 1.5 ? 'a day' : `${Math.round(days)} days`)
