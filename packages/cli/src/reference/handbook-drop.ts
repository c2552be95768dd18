import {
  allowedDrop,
  flexibleResistance,
  MARINE_DROP,
  marineArea,
  runLengthFactor,
  smallestGauge,
  voltageDrop,
} from '@halfsplit/core'
import { number, type Row, type Topic } from './handbook-row.js'

type Answers = ReturnType<Topic>

/** Worked examples: ohm per length, length, current. */
export function drop(row: Row): Answers {
  return {
    drop: {
      value: voltageDrop(number(row, 'rPerLength', 'Ohm/m'), number(row, 'length', 'm'), number(row, 'I', 'A')),
      unit: 'V',
    },
  }
}

export function runLength(row: Row): Answers {
  return { ratio: { value: runLengthFactor(number(row, 'T2', 'K')), unit: '1' } }
}

export function tableDrop(row: Row): Answers {
  const value = allowedDrop(number(row, 'U', 'V'), row.what.includes('intermittent') ? 'intermittent' : 'continuous')
  return value === undefined ? { cannot: 'the table has no such system voltage' } : { dropMax: { value, unit: 'V' } }
}

/** Drop per ampere and metre of route: there and back. */
export function twoWireDrop(row: Row): Answers {
  const perLength = flexibleResistance(number(row, 'area', 'm2'), 1, number(row, 'temperature', 'K'))
  return { dropPerAm: { value: voltageDrop(perLength, 2, 1), unit: 'V/(A.m)' } }
}

export function marineShare(row: Row): Answers {
  const share = row.what.includes('non-critical') ? MARINE_DROP.nonCritical : MARINE_DROP.critical
  return { dropMax: { value: share, unit: '1' } }
}

export function marineSize(row: Row): Answers {
  const area = marineArea(number(row, 'I', 'A'), number(row, 'length', 'm'), number(row, 'U', 'V'), number(row, 'dropMax', '1'))
  const awg = smallestGauge(area)
  return { area: { value: area, unit: 'm2' }, ...(awg === undefined ? {} : { awg: { value: awg, unit: '1' } }) }
}
