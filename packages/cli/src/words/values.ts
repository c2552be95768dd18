import { type Dimension, formatValue, type Meter, rangeFor } from '@halfsplit/core'
import type { Band } from '@halfsplit/diagnosis'

/** Digits of a band follow its width: a twentieth of it, never finer than the display. */
const SHARE_OF_WIDTH = 20

const resolutionAt = (meter: Meter, value: number): number =>
  (rangeFor(meter, value) ?? meter.ranges[meter.ranges.length - 1]).resolution

/** A value as the meter would show it: "11.88 V", or "OL" over its last range. */
export function shownBy(meter: Meter, value: number): string {
  const range = rangeFor(meter, value)
  return range ? formatValue(value, meter.quantity, { resolution: range.resolution }) : 'OL'
}

/** "8.3 to 12.4 V": the unit once where both ends have it. */
export function span(low: string, high: string): string {
  if (low === high) return `about ${low}`
  const [number, unit] = low.split(' ')
  const [top, topUnit] = high.split(' ')
  if (low === 'OL' || high === 'OL') return low === 'OL' ? 'OL' : `${low} or more`
  return unit === topUnit && unit !== undefined ? `${number} to ${top} ${unit}` : `${low} to ${high}`
}

/** A band in the steps of the meter that reads it. */
export function bandWords(meter: Meter, { low, high, middle }: Pick<Band, 'low' | 'high' | 'middle'>): string {
  const finest = resolutionAt(meter, middle)
  const step = Math.max(finest, roundStep((high - low) / SHARE_OF_WIDTH))
  const unit = unitFor(meter.quantity, low, high)
  const word = (value: number) => (rangeFor(meter, value) ? formatValue(value, meter.quantity, { resolution: step, unit }) : 'OL')
  return span(word(low), word(high))
}

/** One unit for both ends: the finer of their own, unless its numbers grow past three digits. */
function unitFor(dimension: Dimension, low: number, high: number): string | undefined {
  const [smaller, larger] = Math.abs(low) < Math.abs(high) ? [low, high] : [high, low]
  if (!Number.isFinite(larger)) return undefined
  const [, fine] = formatValue(smaller, dimension, { digits: 3 }).split(' ')
  const [, coarse] = formatValue(larger, dimension, { digits: 3 }).split(' ')
  return Math.abs(Number(formatValue(larger, dimension, { digits: 3, unit: fine }).split(' ')[0])) < 1000 ? fine : coarse
}

/** The power of ten at or below a step; nothing for nothing. */
const roundStep = (step: number): number => (step > 0 && Number.isFinite(step) ? 10 ** Math.floor(Math.log10(step)) : 0)

const PLACES: readonly (readonly [number, string])[] = [
  [100, 'hundreds of'],
  [10, 'tens of'],
  [1, ''],
]

/** The order of a magnitude in words: "tens of kOhm", "hundreds of Ohm", "kOhm". */
export function orderWords(value: number, dimension: Dimension): string {
  const [number, unit] = formatValue(value, dimension, { digits: 2 }).split(' ')
  const size = Math.abs(Number(number))
  const place = PLACES.find(([least]) => size >= least)
  return place && place[1] ? `${place[1]} ${unit}` : `about ${Math.max(1, Math.round(size))} ${unit}`
}
