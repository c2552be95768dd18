import {
  coldResistance,
  greatestWattage,
  hotResistance,
  inrushRatio,
  lampCurrent,
  linearResistance,
  ratingExponents,
} from '@halfsplit/kinds'
import { named, number, type Row, sorts, type Topic } from './handbook-row.js'

const ohm = (value: number, ...names: string[]) => named(value, 'Ohm', ...names)
const pure = (value: number, ...names: string[]) => named(value, '1', ...names)

const burning: Topic = (row) => {
  const u = number(row, 'U', 'V')
  const i = lampCurrent(number(row, 'P', 'W'), number(row, 'Un', 'V'), u)
  return { ...named(i, 'A', 'I'), ...ohm(u / i, 'R') }
}

const cold: Topic = (row) => {
  const [p, u] = [number(row, 'P', 'W'), number(row, 'Un', 'V')]
  const { least, most } = coldResistance(p, u)
  return { ...ohm(least, 'Rmin'), ...ohm(most, 'Rmax'), ...ohm(hotResistance(p, u), 'Rhot') }
}

const filament: Topic = (row) => {
  const [r0, alpha] = [number(row, 'R0', 'Ohm'), number(row, 'alpha', 'K-1')]
  const r = linearResistance(r0, alpha, number(row, 't', 'K'))
  return { ...ohm(r, 'R'), ...pure(r / r0, 'ratio') }
}

/** Greatest wattages of the category the row names, and the current they mean at its voltage. */
const category: Topic = (row) => {
  const name = /\b([A-Z]+\d+(?:\/\d+)?W?)\b/.exec(row.what.replace(/^Category /, ''))?.[1] ?? ''
  const u = number(row, 'U', 'V')
  const watts = greatestWattage(name, u > 20 ? 24 : 12)
  if (!watts) return { cannot: `the category ${name || 'of this row'} is not among those listed` }
  const [main, second = Number.NaN] = watts
  return {
    ...named(main, 'W', 'Pmax', 'P1max', 'highMax'),
    ...named(second, 'W', 'P2max', 'lowMax'),
    ...named(main / u, 'A', 'Imax'),
  }
}

const exponent = (name: keyof ReturnType<typeof ratingExponents>) => () => pure(ratingExponents()[name], 'n')

const isCategory = (row: Row) => /^Category |^PY?\d/.test(row.what)

const lamps: Topic = sorts(
  [
    { inputs: ['P', 'Un', 'U'], answer: burning },
    { inputs: ['P', 'Un'], answer: cold },
    { inputs: ['R0', 'alpha', 't'], answer: filament },
    { words: /^Inrush current of a cold lamp/, answer: () => pure(inrushRatio(), 'ratio') },
    { words: /exponent of power|^Power exponent/, answer: exponent('power') },
    { words: /exponent of current/, answer: exponent('current') },
    { words: /exponent of resistance/, answer: exponent('resistance') },
    { words: /exponent of colour temperature/, answer: exponent('temperature') },
    {
      words: /exponent of (luminous|life|light|candle|flux)/,
      answer: () => ({ cannot: 'the project models no light output and no life of a lamp' }),
    },
  ],
  'no lamp with its wattage, category or filament',
)

/** Topic 12. */
export const lamp: Topic = (row, all) => (isCategory(row) ? category(row, all) : lamps(row, all))
