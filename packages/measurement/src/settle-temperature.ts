import { formatValue } from '@halfsplit/core'
import type { Conformity, Verdict } from './assess-conformity.js'

/** Which knowledge of the temperature would settle a verdict. */
export interface Settlement {
  /** The temperature as stated, but known to within this half-width, settles it [K]; absent if no knowledge of it would. */
  halfWidth?: number
  /** Temperatures at which the same reading would be good, known as well as now [K]. */
  goodBetween?: { low: number; high: number }
  /** The same reading at or above this temperature is bad [K]. */
  badAbove?: number
  /** The same reading at or below this temperature is bad [K]. */
  badBelow?: number
  /** The same in a sentence. */
  words: string
}

type Judge = (temperature: number, uTemperature: number) => Conformity

/** Temperatures a coil on a machine can have [K]: -55 to 250 degC, beyond winding insulation of class H (common practice, no source). */
const COLDEST = 218.15
const HOTTEST = 523.15
/** Fineness of the answers, well below what a thermometer shows [K]. */
const STEP = 0.05

/** Where the verdict changes between two temperatures whose verdicts differ, to STEP. */
function boundary(verdictAt: (t: number) => Verdict, inside: number, outside: number): number {
  const wanted = verdictAt(inside)
  let [yes, no] = [inside, outside]
  while (Math.abs(yes - no) > STEP) {
    const middle = (yes + no) / 2
    if (verdictAt(middle) === wanted) yes = middle
    else no = middle
  }
  return yes
}

/** Greatest half-width at the stated temperature that still settles it, by bisection: the guard band grows with it. */
function settlingHalfWidth(judge: Judge, temperature: number, uTemperature: number): number | undefined {
  const settled = (half: number) => judge(temperature, half / Math.sqrt(3)).verdict !== 'cannot tell'
  if (!settled(0)) return undefined
  let [low, high] = [0, uTemperature * Math.sqrt(3)]
  while (high - low > STEP) {
    const middle = (low + high) / 2
    if (settled(middle)) low = middle
    else high = middle
  }
  return low > 0 ? low : undefined
}

/** The good temperatures around the first one found on a grid of 1 K, which is finer than any band of interest. */
function goodTemperatures(verdictAt: (t: number) => Verdict): { low: number; high: number } | undefined {
  const grid = Array.from({ length: HOTTEST - COLDEST + 1 }, (_, i) => COLDEST + i)
  const good = grid.filter((t) => verdictAt(t) === 'good')
  if (good.length === 0) return undefined
  const [first, last] = [good[0], good[good.length - 1]]
  return {
    low: first === COLDEST ? COLDEST : boundary(verdictAt, first, first - 1),
    high: last === HOTTEST ? HOTTEST : boundary(verdictAt, last, last + 1),
  }
}

function edge(verdictAt: (t: number) => Verdict, extreme: number, stated: number): number | undefined {
  return verdictAt(extreme) === 'bad' ? boundary(verdictAt, extreme, stated) : undefined
}

/** Whole degrees Celsius, rounded to the safe side. */
const celsius = (t: number, round: (x: number) => number) => `${round(t - 273.15)} degC`

function inWords(found: Omit<Settlement, 'words'>, temperature: number, uTemperature: number): string {
  const known = `known to +- ${formatValue(uTemperature * Math.sqrt(3), 'temperatureDifference')}`
  const sentences: string[] = []
  if (found.halfWidth !== undefined) {
    sentences.push(
      `knowing ${formatValue(temperature, 'temperature')} to +- ${formatValue(found.halfWidth, 'temperatureDifference', { digits: 2 })} settles it`,
    )
  }
  if (found.goodBetween) {
    const { low, high } = found.goodBetween
    sentences.push(`this reading is good if the coil is at ${celsius(low, Math.ceil)} to ${celsius(high, Math.floor)} (${known})`)
  }
  if (found.badAbove !== undefined) sentences.push(`bad at ${celsius(found.badAbove, Math.ceil)} or above`)
  if (found.badBelow !== undefined) sentences.push(`bad at ${celsius(found.badBelow, Math.floor)} or below`)
  return sentences.length ? sentences.join('; ') : 'no temperature settles it: the meter is too coarse for these limits'
}

/**
 * Which temperature would settle a verdict that cannot be told at the stated one.
 * @param judge the comparison at a temperature [K] with its standard uncertainty [K]; its measured value falls as the temperature rises
 * @param temperature stated [K]   @param uTemperature its standard uncertainty [K]
 * Cost: some 350 comparisons.  Checked in assess-coil.ref.test.ts.
 */
export function whatSettles(judge: Judge, temperature: number, uTemperature: number): Settlement {
  const verdictAt = (t: number) => judge(t, uTemperature).verdict
  const halfWidth = settlingHalfWidth(judge, temperature, uTemperature)
  const goodBetween = goodTemperatures(verdictAt)
  const badAbove = edge(verdictAt, HOTTEST, temperature)
  const badBelow = edge(verdictAt, COLDEST, temperature)
  const found = {
    ...(halfWidth === undefined ? {} : { halfWidth }),
    ...(goodBetween ? { goodBetween } : {}),
    ...(badAbove === undefined ? {} : { badAbove }),
    ...(badBelow === undefined ? {} : { badBelow }),
  }
  return { ...found, words: inWords(found, temperature, uTemperature) }
}
