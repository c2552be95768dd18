import {
  CLASS_LETTERS,
  FAILURE_MODE_IDENTIFIERS,
  FLUID_LETTERS,
  MAIN_CLASSES,
  relayTerminals,
  TERMINAL_NUMBERS,
  TROUBLE_CODE_BITS,
} from '@halfsplit/kinds'
import { type Answers, named, number, type Row, type RowSort, sorts, type Topic } from './handbook-row.js'

/** The meaning of a code, told apart from the other meanings of its list. */
function meaning(list: Readonly<Record<string, string>>, code: string): Answers {
  const entry = Object.hasOwn(list, code) ? list[code] : undefined
  return entry === undefined ? { cannot: 'the list has no such code' } : { meaning: { sense: entry, among: Object.values(list) } }
}

/** A code given as a text; empty where the row gives none. */
function text(row: Row, name: string): string {
  const given = row.input?.[name]
  return typeof given === 'string' ? given : ''
}

const lettered = (words: RegExp, list: Readonly<Record<string, string>>): RowSort => ({
  words,
  inputs: ['letter'],
  answer: (row) => meaning(list, text(row, 'letter')),
})

const bits = () => ({
  ...named(TROUBLE_CODE_BITS.identifier, '1', 'bits'),
  ...named(TROUBLE_CODE_BITS.parameter, '1', 'spnBits'),
  ...named(TROUBLE_CODE_BITS.count, '1', 'countBits'),
})

const changeOver = () => {
  const { coil, ...contacts } = relayTerminals()
  return { coil: coil.join(', '), ...contacts }
}

/** Topic 10. */
export const codes: Topic = sorts(
  [
    { inputs: ['fmi'], answer: (row) => meaning(FAILURE_MODE_IDENTIFIERS, String(number(row, 'fmi', '1'))) },
    { inputs: ['terminal'], answer: (row) => meaning(TERMINAL_NUMBERS, text(row, 'terminal')) },
    lettered(/^IEC 81346-2 main class/, MAIN_CLASSES),
    lettered(/^IEEE 315/, CLASS_LETTERS),
    lettered(/^ISO 1219-2/, FLUID_LETTERS),
    { words: /^Width of the identifier/, answer: bits },
    { words: /^EN 50005.*one change-over/, answer: changeOver },
  ],
  'no list of such codes is carried',
)
