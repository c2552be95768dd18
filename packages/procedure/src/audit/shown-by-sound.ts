import type { TakenAtStep } from '../written/passes.js'

/** What sound specimens show: each word with its share, limits of nearly all readings [SI], or a display without a number. */
export type SoundShows =
  | { kind: 'words'; words: readonly { word: string; share: number }[] }
  | { kind: 'range'; low: number; high: number }
  | { kind: 'over range' | 'unsteady' }

/** Limits hold the central 99 % of a normal law. */
const REACH = 2.576

/** What sound specimens show, in short. Readings are taken as normal; where most show no number, that is what they show. */
export function soundShows(taken: readonly TakenAtStep[]): SoundShows {
  const words = taken.flatMap((one) => (typeof one !== 'string' && 'word' in one ? [one.word] : []))
  if (words.length > 0) return { kind: 'words', words: counted(words) }
  const values = taken.flatMap((one) => (typeof one !== 'string' && 'value' in one ? [one.value] : []))
  if (values.length < taken.length / 2) return { kind: taken.includes('unsteady') ? 'unsteady' : 'over range' }
  const mean = values.reduce((sum, value) => sum + value, 0) / values.length
  const sd = Math.sqrt(values.reduce((sum, value) => sum + (value - mean) ** 2, 0) / values.length)
  return { kind: 'range', low: mean - REACH * sd, high: mean + REACH * sd }
}

function counted(words: readonly string[]): { word: string; share: number }[] {
  const counts = new Map<string, number>()
  for (const word of words) counts.set(word, (counts.get(word) ?? 0) + 1)
  return [...counts].map(([word, count]) => ({ word, share: count / words.length })).sort((p, q) => q.share - p.share)
}
