import {
  BURN_MARGIN,
  burnThreshold,
  burnTime,
  CLEANING_AIR,
  freeAirFusingCurrent,
  heatingIntegral,
  METAL_TOUCH,
  meltingCurrent,
  NAMED_RULES,
  OPEN_COOLING_BELOW,
} from '@halfsplit/kinds'
import { inputIn, named, number, said, sorts, type Topic } from './handbook-row.js'

const kelvin = (value: number, ...names: string[]) => named(value, 'K', ...names)

const melts: Topic = (row) =>
  named(meltingCurrent(number(row, 'A', 'm2'), number(row, 't', 's'), inputIn(row, 'Ta', 'K')), 'A', 'I')

const heats: Topic = (row) => {
  const integral = heatingIntegral(number(row, 'A', 'm2'), number(row, 'T1', 'K'), number(row, 'T2', 'K'))
  return { ...named(integral, 'A2.s', 'I2t'), ...named(Math.sqrt(integral), 'A', 'I1s') }
}

const likeMetal: Topic = (row) => {
  const metal = number(row, 'metal', 'K')
  return { ...kelvin(metal + BURN_MARGIN.glass, 'glass'), ...kelvin(metal + BURN_MARGIN.plastic, 'plastic') }
}

/** The time of contact stands in the words, in minutes or hours. */
const threshold: Topic = (row) => {
  const [minutes, hours] = [said(row, /([\d.]+) min/, 'min', 's'), said(row, /([\d.]+) h\b/, 'h', 's')]
  return kelvin(burnThreshold(Number.isNaN(minutes) ? hours : minutes), 't')
}

/** Topic 15. */
export const safety: Topic = sorts(
  [
    { inputs: ['A', 't'], words: /melting current/, answer: melts },
    { inputs: ['A', 'T1', 'T2'], answer: heats },
    { inputs: ['d'], words: /fusing current/, answer: (row) => named(freeAirFusingCurrent(number(row, 'd', 'm')), 'A', 'I') },
    { inputs: ['t'], words: /time to a serious burn/, answer: (row) => named(burnTime(number(row, 't', 'K')), 's', 'time') },
    { inputs: ['metal'], answer: likeMetal },
    { words: /^Burn threshold for contact.*any material/, answer: threshold },
    {
      words: /^Burn threshold, uncoated smooth metal, 1 s/,
      answer: () => ({ ...kelvin(METAL_TOUCH.least, 'tMin'), ...kelvin(METAL_TOUCH.most, 'tMax') }),
    },
    { words: /^No burn for contact up to 0.5 s/, answer: () => kelvin(METAL_TOUCH.least, 't') },
    { words: /[Cc]leaning|dead-ended nozzle/, answer: () => named(CLEANING_AIR, 'Pa', 'p') },
    { words: /^Do not open a cooling system/, answer: () => kelvin(OPEN_COOLING_BELOW, 't') },
    { words: /stored energy or start-up hazard/, answer: () => ({ rule: NAMED_RULES.lockout }) },
    { words: /^Test leads/, answer: () => ({ rule: NAMED_RULES.testLeads }) },
  ],
  'no wire to melt, surface to touch or rule that the project carries',
)
