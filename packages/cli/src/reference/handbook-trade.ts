import { convert, resistanceAt, temperatureFromResistance } from '@halfsplit/core'
import { boilingPoint, massShare } from '@halfsplit/kinds'
import { assessConformity, differenceLimits, guardedLimits, type Limits } from '@halfsplit/measurement'
import { hasInputs, inputIn, number, type Row, type Topic } from './handbook-row.js'

type Answers = ReturnType<Topic>

const AT_20 = 293.15

/** Topic 17: rows without a calculation are the given facts; the others ask what follows from them. */
export const trade: Topic = (row, all) => {
  if (/^17\.switch\.(openC|hyst|meter|guard|pot|boil)$/.test(row.id)) return thermalSwitch(row, all)
  if (hasInputs(row, 'R', 'R20')) return coilTemperature(row)
  if (hasInputs(row, 'R', 't')) return coldResistance(row)
  if (hasInputs(row, 'R20', 't')) return hotReading(row, all)
  if (row.input) return { cannot: 'no such calculation' }
  return { cannot: 'a given fact of the trade: there is nothing to compute' }
}

function coilTemperature(row: Row): Answers {
  const t = { value: temperatureFromResistance(number(row, 'R', 'Ohm'), number(row, 'R20', 'Ohm'), AT_20), unit: 'K' }
  return { t, tF: t }
}

function coldResistance(row: Row): Answers {
  return { R20: { value: resistanceAt(number(row, 'R', 'Ohm'), number(row, 't', 'K'), AT_20), unit: 'Ohm' } }
}

/** What a coil reads hot, and what the bare limits say of that reading. */
function hotReading(row: Row, all: readonly Row[]): Answers {
  if ('compensated' in row.expected)
    return { cannot: 'a verdict at 20 degC is asked for in a wording of its own, beside numbers' }
  const reading = resistanceAt(number(row, 'R20', 'Ohm'), AT_20, number(row, 't', 'K'))
  const limits = given(all, '17.coil.band', 'Rmin', 'Rmax', 'Ohm')
  const plain = limits && assessConformity({ value: reading, u: 0 }, limits).verdict
  return { R: { value: reading, unit: 'Ohm' }, ...(plain ? { plainBand: plain === 'good' ? 'pass' : 'fail' } : {}) }
}

/** Two limits stated by another row, in a unit. */
function given(all: readonly Row[], id: string, low: string, high: string, unit: string): Required<Limits> | undefined {
  const facts = all.find((row) => row.id === id)?.expected
  const [least, most] = [facts?.[low], facts?.[high]]
  if (typeof least !== 'object' || typeof most !== 'object') return undefined
  return { low: convert(least.value, least.unit, unit), high: convert(most.value, most.unit, unit) }
}

function thermalSwitch(row: Row, all: readonly Row[]): Answers {
  const opening = given(all, '17.switch.open', 'tMin', 'tMax', 'K')
  const closing = given(all, '17.switch.close', 't', 't', 'K')
  if (!opening) return { cannot: 'the row 17.switch.open with the given limits is not here' }
  if (row.id === '17.switch.hyst') {
    if (!closing) return { cannot: 'the row 17.switch.close with the given point is not here' }
    const { low, high } = differenceLimits(opening, closing)
    return { min: kelvin(low), max: kelvin(high) }
  }
  if (row.id === '17.switch.pot') return { gap: kelvin(opening.low - boilingPoint(0)) }
  if (row.id === '17.switch.boil') return coolantBoils(opening)
  const u = inputIn(row, 'u', 'K') ?? 0
  // The readings a good part may give are its limits let out by the thermometer's error; those that prove it good, drawn in by
  // it.
  const limits = guardedLimits(opening, row.id === '17.switch.meter' ? -u : u)
  return { tMin: kelvin(limits.low), tMax: kelvin(limits.high) }
}

/** Half coolant, half water by volume with no pressure on it, against the range in which the switch opens. */
function coolantBoils(opening: Required<Limits>): Answers {
  const boils = boilingPoint(massShare(0.5))
  return { tBoil: kelvin(boils), inside: boils >= opening.low && boils <= opening.high }
}

function kelvin(value = Number.NaN) {
  return { value, unit: 'K' }
}
