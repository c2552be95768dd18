import { copperRatio, type Meter, rangeFor } from '@halfsplit/core'
import type { Expect, Step } from './model.js'

/** What was taken at a step: the word of a look; a reading [SI]; a display beyond its ranges; digits that do not come to rest. */
export type TakenAtStep = { word: string } | { value: number } | 'over range' | 'unsteady'

/**
 * Whether what was taken is what the step expects. Digits that do not come to rest are never what was expected.
 * @param partTemperature of the part whose resistance was read [K]: limits that hold at a temperature are brought to it
 */
export function passes(
  { expect, temperature }: Pick<Step, 'expect' | 'temperature'>,
  taken: TakenAtStep,
  partTemperature?: number,
): boolean {
  if (taken === 'unsteady') return false
  if (taken === 'over range') return expect.kind === 'over-range' || (expect.kind === 'range' && expect.high === undefined)
  if ('word' in taken) return expect.kind === 'words' && expect.words.includes(taken.word)
  if (expect.kind !== 'range') return false
  const ratio = temperature === undefined || partTemperature === undefined ? 1 : copperRatio(temperature, partTemperature)
  return within(taken.value, expect, ratio)
}

const within = (value: number, { low, high }: Extract<Expect, { kind: 'range' }>, ratio: number): boolean =>
  value >= (low ?? Number.NEGATIVE_INFINITY) * ratio && value <= (high ?? Number.POSITIVE_INFINITY) * ratio

/** A value at the leads as its meter displays it: rounded to its step, or over range. */
export function displayedBy(meter: Meter, value: number): { value: number } | 'over range' {
  const range = Number.isFinite(value) ? rangeFor(meter, value) : undefined
  if (!range) return 'over range'
  const zero = meter.zero ?? 0
  return { value: zero + Math.round((value - zero) / range.resolution) * range.resolution }
}
