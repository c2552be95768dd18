import {
  ALPHA_COPPER_20,
  AWG_RATIO,
  awgArea,
  awgDiameter,
  CONNECTION_DROP_LIMIT,
  FINISHED_WIRE_SURPLUS,
  flexibleResistance,
  RESISTIVITY_COPPER_20,
  wireResistance,
} from '@halfsplit/core'
import { drop, marineShare, marineSize, runLength, tableDrop, twoWireDrop } from './handbook-drop.js'
import { inputIn, number, type Row, type Topic } from './handbook-row.js'

type Answers = ReturnType<Topic>

/** Topic 1, by families of ids: the first that matches speaks. */
const FAMILIES: [RegExp, (row: Row) => Answers][] = [
  [/^01\.(const|awg)\./, solid],
  [/^01\.ac4313\.vd\./, drop],
  [/^01\.ac4313\.len\./, runLength],
  [/^01\.ac4313\.t6\./, tableDrop],
  [/^01\.(iec60228\.c[56]|phys)\./, flexible],
  [/^01\.(ac4313|iec60228|iso6722)\./, published],
  [/^01\.bs7671\./, twoWireDrop],
  [/^01\.abyc\.\d+pct/, marineShare],
  [/^01\.abyc\.ex/, marineSize],
  [/^01\.trade\.gnd/, () => ({ drop: { value: CONNECTION_DROP_LIMIT, unit: 'V' } })],
]

export const wire: Topic = (row) => FAMILIES.find(([ids]) => ids.test(row.id))?.[1](row) ?? { cannot: 'no such wire calculation' }

/** Area [m²], length [m] and temperature [K]; a resistance per length is that of one metre, and tables hold at 20 degC. */
function conductor(row: Row): [number, number, number] {
  return [number(row, 'area', 'm2'), inputIn(row, 'length', 'm') ?? 1, inputIn(row, 'temperature', 'K') ?? 293.15]
}

function solid(row: Row): Answers {
  const gauge = number(row, 'awg', '1')
  const [, length, temperature] = conductor(row)
  return {
    rho: { value: RESISTIVITY_COPPER_20, unit: 'Ohm.m' },
    alpha20: { value: ALPHA_COPPER_20, unit: 'K-1' },
    ratio: { value: AWG_RATIO, unit: '1' },
    d: { value: awgDiameter(gauge), unit: 'm' },
    area: { value: awgArea(gauge), unit: 'm2' },
    R: { value: wireResistance(awgArea(gauge), length, temperature), unit: 'Ohm' },
  }
}

function flexible(row: Row): Answers {
  const value = flexibleResistance(...conductor(row), row.what.includes('tinned') ? 'tinned' : 'plain')
  return { R: { value, unit: 'Ohm' }, rMax: { value, unit: 'Ohm/m' } }
}

/** Published maxima of finished wire, of which ideal copper is the floor. */
function published(row: Row): Answers {
  const value = wireResistance(...conductor(row))
  return {
    Rmax: { value, unit: 'Ohm', surplus: FINISHED_WIRE_SURPLUS },
    rMax: { value, unit: 'Ohm/m', surplus: FINISHED_WIRE_SURPLUS },
  }
}
