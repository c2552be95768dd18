import {
  PLATINUM,
  platinumResistance,
  platinumTemperature,
  platinumTolerance,
  steinhartResistance,
  steinhartTemperature,
  THERMISTOR_10K,
  thermistorResistance,
  thermistorTemperature,
  typeKTemperature,
  typeKVoltage,
} from '@halfsplit/kinds'
import { inputIn, number, type Row, sorts, type Topic } from './handbook-row.js'

const kelvin = (value: number) => ({ value, unit: 'K' })
const ohm = (value: number) => ({ value, unit: 'Ohm' })

/** Allowed deviations: the file writes a difference of temperature in Cel, where no number may be shifted by 273.15. */
const tolerance: Topic = (row) => {
  const [a, b] = (['A', 'B'] as const).map((accuracy) => platinumTolerance(number(row, 't', 'K'), accuracy))
  return {
    classA: { value: a.kelvin, unit: 'Cel' },
    classB: { value: b.kelvin, unit: 'Cel' },
    classAohm: ohm(a.ohm),
    classBohm: ohm(b.ohm),
  }
}

const thermistor = (row: Row) => ({ r25: number(row, 'R25', 'Ohm'), beta: number(row, 'B', 'K') })
const coldJunction = (row: Row) => inputIn(row, 'tCold', 'K') ?? 273.15

/** The hot junction, and what it seems to be where the cold one is taken for 0 degC. */
const hotJunction: Topic = (row) => {
  const voltage = number(row, 'E', 'V')
  return { t: kelvin(typeKTemperature(voltage, coldJunction(row))), tWithoutCorrection: kelvin(typeKTemperature(voltage)) }
}

/** Topic 4. */
export const sensor: Topic = sorts(
  [
    {
      words: /Callendar-Van Dusen coefficients/,
      answer: () => ({
        A: { value: PLATINUM.a, unit: 'K-1' },
        B: { value: PLATINUM.b, unit: 'K-2' },
        C: { value: PLATINUM.c, unit: 'K-4' },
      }),
    },
    {
      words: /Pt100.*(mean coefficient|alpha)/,
      answer: () => ({ alpha: { value: (platinumResistance(373.15) - 100) / 1e4, unit: 'K-1' } }),
    },
    { words: /Pt100 allowed deviation/, inputs: ['t'], answer: tolerance },
    { words: /Pt100/, inputs: ['t'], answer: (row) => ({ R: ohm(platinumResistance(number(row, 't', 'K'))) }) },
    { words: /Pt100/, inputs: ['R'], answer: (row) => ({ t: kelvin(platinumTemperature(number(row, 'R', 'Ohm'))) }) },
    {
      words: /Type K/,
      inputs: ['t'],
      answer: (row) => ({ E: { value: typeKVoltage(number(row, 't', 'K'), coldJunction(row)), unit: 'V' } }),
    },
    {
      words: /Type K|[Cc]old-junction/,
      inputs: ['E'],
      answer: hotJunction,
    },
    {
      inputs: ['R25', 'B', 't'],
      answer: (row) => ({ R: ohm(thermistorResistance(thermistor(row), number(row, 't', 'K'))) }),
    },
    {
      inputs: ['R25', 'B', 'R'],
      answer: (row) => ({ t: kelvin(thermistorTemperature(thermistor(row), number(row, 'R', 'Ohm'))) }),
    },
    {
      words: /Steinhart-Hart/,
      inputs: ['R'],
      answer: (row) => ({ t: kelvin(steinhartTemperature(THERMISTOR_10K, number(row, 'R', 'Ohm'))) }),
    },
    {
      words: /Steinhart-Hart/,
      inputs: ['t'],
      answer: (row) => ({ R: ohm(steinhartResistance(THERMISTOR_10K, number(row, 't', 'K'))) }),
    },
  ],
  'no sensor of a known curve with its reading or its temperature',
)
