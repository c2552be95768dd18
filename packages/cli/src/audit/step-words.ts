import { formatValue } from '@halfsplit/core'
import type { SoundShows, Step } from '@halfsplit/procedure'
import { listed } from '../words/layout.js'
import { bandWords, shownBy, span } from '../words/values.js'

/** What a step expects: "52.0 to 63.0 Ohm", "at least 24.00 V", "released". */
export function expectWords({ expect, temperature, test: { probe } }: Step): string {
  if (expect.kind === 'words') return listed(expect.words, 'or')
  if (expect.kind === 'over-range' || probe.kind === 'look') return 'a display over its range'
  const at = temperature === undefined ? '' : ` at ${formatValue(temperature, 'temperature')}`
  const word = (value: number) => shownBy(probe.meter, value)
  const { low, high } = expect
  if (low === undefined || high === undefined)
    return `${low === undefined ? `at most ${word(high as number)}` : `at least ${word(low)}`}${at}`
  return `${span(word(low), word(high))}${at}`
}

/** What sound machines show there: "released", "21.0 to 22.8 V". */
export function showsWords(shows: SoundShows, { test: { probe } }: Step): string {
  if (shows.kind === 'words')
    return listed(
      shows.words.filter(({ share }) => share >= RARE).map(({ word }) => word),
      'or',
    )
  if (shows.kind !== 'range' || probe.kind === 'look')
    return shows.kind === 'unsteady' ? 'no steady display' : 'a display over its range'
  const { low, high } = shows
  return bandWords(probe.meter, { low, high, middle: (low + high) / 2 })
}

/** Words rarer than this are not named. */
const RARE = 0.05
