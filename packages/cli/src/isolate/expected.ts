import { type Band, bandsOf, NO_REPAIR, NOTHING_WRONG, predictCell, type WeighedTest } from '@halfsplit/diagnosis'
import type { Predictive } from '@halfsplit/inference'
import type { Case } from './case.js'

/** What a suspect would show at a test: bands of a reading, or words with their chances. */
export interface Expected {
  /** Repair, or `nothing to repair`. */
  suspect: string
  probability: number
  bands: readonly Band[]
  words: readonly { word: string; chance: number }[]
}

/** A band holds this share of what a suspect would read, meter error included. */
export const BAND_SHARE = 0.95

/** What each suspect would show, likeliest suspect first. */
export function expectedBySuspect({ test, classes }: WeighedTest): Expected[] {
  return classes.map(({ id, probability, predictive }) => ({ suspect: id, probability, ...shown(test, predictive) }))
}

/** What a healthy machine would show, given all that was read so far. */
export function expectedHealthy({ standing }: Case, { test }: WeighedTest): Expected {
  const sound = standing.hypotheses.findIndex(({ id }) => id === NOTHING_WRONG)
  const cell = standing.sized.findIndex(({ hypothesis }) => hypothesis === sound)
  const [predictive] = predictCell(standing, cell, test.setup, [test.probe])
  return { suspect: NO_REPAIR, probability: standing.nothingWrong, ...shown(test, predictive) }
}

function shown({ probe }: WeighedTest['test'], predictive: Predictive): Pick<Expected, 'bands' | 'words'> {
  if (probe.kind !== 'look') return { bands: bandsOf(predictive, BAND_SHARE), words: [] }
  const total = predictive.words.reduce((sum, share) => sum + share, 0)
  const words = probe.look.words.map((word, i) => ({ word, chance: total > 0 ? predictive.words[i] / total : 0 }))
  return { bands: [], words: words.sort((a, b) => b.chance - a.chance) }
}

/** Suspects lighter than this do not count when sides are told apart. */
const COUNTS_FROM = 0.03

/** Suspects in groups that a test would tell apart: by their bands where these do not meet, or by their likeliest word. */
export function sidesOf(expected: readonly Expected[]): Expected[][] {
  const counted = expected.filter(({ probability }) => probability >= COUNTS_FROM)
  return counted.some(({ words }) => words.length > 0) ? sidesByWord(counted) : sidesByBand(counted)
}

function sidesByWord(expected: readonly Expected[]): Expected[][] {
  const sides = new Map<string, Expected[]>()
  for (const one of expected) {
    const [{ word }] = one.words
    sides.set(word, [...(sides.get(word) ?? []), one])
  }
  return [...sides.values()]
}

function sidesByBand(expected: readonly Expected[]): Expected[][] {
  const sorted = expected
    .filter(({ bands }) => bands.length > 0)
    .map((one) => ({ one, low: one.bands[0].low, high: one.bands[one.bands.length - 1].high }))
    .sort((a, b) => a.low - b.low)
  const sides: { high: number; members: Expected[] }[] = []
  for (const { one, low, high } of sorted) {
    const last = sides[sides.length - 1]
    if (last && low <= last.high) {
      last.members.push(one)
      last.high = Math.max(last.high, high)
    } else sides.push({ high, members: [one] })
  }
  return sides.map(({ members }) => members.sort((a, b) => b.probability - a.probability))
}

/** A number that no suspect and no healthy machine would show: outside every wide band. */
export function unexpected(low: number, high: number, { classes }: WeighedTest): boolean {
  return classes.every(({ predictive }) => bandsOf(predictive, 0.999, 4).every((band) => high < band.low || low > band.high))
}
