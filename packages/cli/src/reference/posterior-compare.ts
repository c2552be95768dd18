/** Compares what was computed with what a case expects, whatever its shape. */

import type { CaseResult } from './runner.js'

/**
 * The places where two values differ: numbers by more than the tolerance, lists in length or order, all else in identity. Of an object
 * only the expected keys are looked at. A list of tolerances goes with a list of values.
 */
export function differences(ours: unknown, expected: unknown, tolerance: number | number[], at = ''): string[] {
  if (typeof expected === 'number')
    return withinTolerance(ours, expected, tolerance) ? [] : [`${at}: expected ${expected}, got ${String(ours)}`]
  if (Array.isArray(expected)) {
    if (!Array.isArray(ours) || ours.length !== expected.length) return [`${at}: expected a list of ${expected.length}`]
    return expected.flatMap((item, i) =>
      differences(ours[i], item, Array.isArray(tolerance) ? tolerance[i] : tolerance, `${at}[${i}]`),
    )
  }
  if (typeof expected === 'object' && expected !== null) {
    if (typeof ours !== 'object' || ours === null) return [`${at}: nothing to compare with`]
    const entries = new Map(Object.entries(ours))
    return Object.entries(expected).flatMap(([key, value]) =>
      differences(entries.get(key), value, tolerance, at === '' ? key : `${at}.${key}`),
    )
  }
  return ours === expected ? [] : [`${at}: expected ${String(expected)}, got ${String(ours)}`]
}

function withinTolerance(ours: unknown, expected: number, tolerance: number | number[]): boolean {
  return typeof ours === 'number' && Math.abs(ours - expected) <= Number(tolerance)
}

/** Runs one case: no differences is passed; an error thrown is a failure with its words. */
export function judge(id: string, run: () => string[]): CaseResult {
  try {
    const found = run()
    return found.length === 0 ? { id, outcome: 'passed' } : { id, outcome: 'failed', detail: found.slice(0, 5).join('; ') }
  } catch (error) {
    return { id, outcome: 'failed', detail: error instanceof Error ? error.message : String(error) }
  }
}
