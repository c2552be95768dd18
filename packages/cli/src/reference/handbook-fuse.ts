import { awgArea } from '@halfsplit/core'
import { BLADE_FUSE_SCOPE, CONTINUOUS_SHARE, FUSE_LINKS, largestFuse, openingBand } from '@halfsplit/kinds'
import { type Answers, number, type Row, sorts, type Topic } from './handbook-row.js'

/** Kind of fuse by the words of a row. */
const LINKS: [RegExp, keyof typeof FUSE_LINKS][] = [
  [/type C/, 'bladeC'],
  [/type F|[Mm]iniature/, 'bladeF'],
  [/type E|[Hh]igh-current/, 'bladeE'],
  [/IEC fast/, 'iecFast'],
  [/UL fast/, 'ulFast'],
  [/UL .*(slow|delay)/, 'ulDelay'],
]

function opening(row: Row): Answers {
  const link = LINKS.find(([words]) => words.test(row.what))?.[1]
  if (!link) return { cannot: 'no fuse of this kind is described: its opening time is not known' }
  const { least, most } = openingBand(FUSE_LINKS[link], number(row, 'I/In', '1'))
  return { tMin: { value: least, unit: 's' }, tMax: { value: most, unit: 's' } }
}

/** A wire gauge as written: 10, 0, 2/0. */
function gauge(row: Row): number {
  const text = row.input?.awg
  if (typeof text !== 'string') return number(row, 'awg', '1')
  const zeros = /^(\d)\/0$/.exec(text)?.[1] ?? /^(0{2,4})$/.exec(text)?.[1].length
  return zeros === undefined ? Number(text) : 1 - Number(zeros)
}

function wireFuse(row: Row): Answers {
  const largest = largestFuse(awgArea(gauge(row)))
  return largest === undefined ? { cannot: 'no fuse is small enough for such a wire' } : { InMax: { value: largest, unit: 'A' } }
}

/** Topic 3. */
export const fuse: Topic = sorts(
  [
    { inputs: ['I/In'], answer: opening },
    { inputs: ['awg'], answer: wireFuse },
    {
      words: /ISO 8820-3 blade fuses/,
      answer: () => ({
        Ur: { value: BLADE_FUSE_SCOPE.voltage, unit: 'V' },
        UrHigh: { value: BLADE_FUSE_SCOPE.highVoltage, unit: 'V' },
        InMax: { value: BLADE_FUSE_SCOPE.largestRating, unit: 'A' },
        breaking: { value: BLADE_FUSE_SCOPE.breakingCapacity, unit: 'A' },
      }),
    },
    { words: /[Cc]ontinuous load of a blade fuse/, answer: () => ({ share: { value: CONTINUOUS_SHARE, unit: '1' } }) },
  ],
  'neither an opening time, a wire to protect, nor the scope of blade fuses',
)
