/** Comparison of numbers relative to their size, for values from 1e-12 to 1e6 in one case. */

import { differences } from './posterior-compare.js'

/** As `differences`, the tolerance of each number being a share of the expected one; zero must be met within the share itself. */
export function relativeDifferences(ours: unknown, expected: unknown, share: number, at = ''): string[] {
  if (typeof expected === 'number') return differences(ours, expected, share * (Math.abs(expected) || 1), at)
  if (typeof expected !== 'object' || expected === null) return differences(ours, expected, 0, at)
  if (typeof ours !== 'object' || ours === null) return [`${at}: nothing to compare with`]
  if (Array.isArray(expected) && (!Array.isArray(ours) || ours.length !== expected.length))
    return [`${at}: expected a list of ${expected.length}`]
  const entries = new Map(Object.entries(ours))
  return Object.entries(expected).flatMap(([key, value]) =>
    relativeDifferences(entries.get(key), value, share, at === '' ? key : `${at}.${key}`),
  )
}
