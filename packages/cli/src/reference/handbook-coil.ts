import {
  convert,
  copperAlphaAt,
  copperRatio,
  RESISTANCE_METHOD_CONSTANTS,
  resistanceAt,
  resistanceBand,
  shortedTurns,
  temperatureFromResistance,
} from '@halfsplit/core'
import { methodConstant } from './handbook-metal.js'
import { hasInputs, inputIn, number, type Row, type Topic } from './handbook-row.js'

type Answers = ReturnType<Topic>

const AT_20 = 293.15
const K = RESISTANCE_METHOD_CONSTANTS
const CONSTANTS: Record<string, number> = {
  cu: K.copper,
  al: K.aluminium,
  'cu.iec': K.copperIec,
  'al.iec': K.aluminiumIec,
  'cu.ac': K.copperAircraft,
  'al.ac': K.aluminiumAircraft,
}

/** Topic 2, by what a row gives and asks for. */
export const coil: Topic = (row) => {
  if (!row.input) return constant(row)
  if (hasInputs(row, 'R20good', 'shorted')) return shorted(row)
  if (hasInputs(row, 'R20', 'tol', 'tMin', 'tMax')) return band(row)
  return inputIn(row, 'R2', 'Ohm') === undefined ? hot(row) : warm(row)
}

/** A printed constant by the metal and the practice in its id, or copper's coefficient at the temperature the row names. */
function constant(row: Row): Answers {
  const k = CONSTANTS[row.id.replace(/^02\.k\./, '')]
  const reference = /at (-?\d+) Cel/.exec(row.what)?.[1]
  if (k !== undefined) return { k: { value: k, unit: 'K' } }
  if (reference === undefined || !/copper/i.test(row.what)) return { cannot: 'no such constant' }
  return { alpha: { value: copperAlphaAt(convert(Number(reference), 'Cel', 'K')), unit: 'K-1' } }
}

/** Temperature from two resistances. */
function warm(row: Row): Answers {
  const t1 = number(row, 't1', 'K')
  const t2 = temperatureFromResistance(number(row, 'R2', 'Ohm'), number(row, 'R1', 'Ohm'), t1, methodConstant(row, t1))
  return { t2: { value: t2, unit: 'K' }, rise: { value: t2 - t1, unit: 'K' } }
}

/** Resistance, or its ratio, at a second temperature. */
function hot(row: Row): Answers {
  const [r1, t1, t2] = [number(row, 'R1', 'Ohm'), inputIn(row, 't1', 'K') ?? AT_20, number(row, 't2', 'K')]
  const at = (k: number | undefined) => ({ value: resistanceAt(r1, t1, t2, k), unit: 'Ohm' })
  const k = methodConstant(row, t1)
  return { ratio: { value: copperRatio(t1, t2, k), unit: '1' }, R2: at(k), R2k2345: at(K.copper), R2k235: at(K.copperIec) }
}

function shorted(row: Row): Answers {
  const good = number(row, 'R20good', 'Ohm')
  const left = shortedTurns(good, number(row, 'shorted', '1'))
  return { R20: { value: left, unit: 'Ohm' }, tEquivalent: { value: temperatureFromResistance(left, good, AT_20), unit: 'K' } }
}

function band(row: Row): Answers {
  const { low, high } = resistanceBand(
    number(row, 'R20', 'Ohm'),
    number(row, 'tol', '1'),
    number(row, 'tMin', 'K'),
    number(row, 'tMax', 'K'),
  )
  return { Rmin: { value: low, unit: 'Ohm' }, Rmax: { value: high, unit: 'Ohm' } }
}
