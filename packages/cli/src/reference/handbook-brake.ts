import { convert } from '@halfsplit/core'
import {
  AIR_BRAKE_RULES,
  buildUpRule,
  leakFromDecay,
  leakRule,
  type RuleLimit,
  reserveRule,
  reservoirProof,
  warningRule,
} from '@halfsplit/kinds'
import { inputIn, named, number, type Row, type RowSort, sorts, type Topic } from './handbook-row.js'

const R: Record<keyof typeof AIR_BRAKE_RULES, RuleLimit> = AIR_BRAKE_RULES

/** A limit under the names rows give one; Ontario prints it in kPa and in psi rounded to whole ones. */
function limits(rule: RuleLimit, unit: string) {
  const psi = (value: number) => ({ psi: { value: Math.round(convert(value, unit, '[psi]')), unit: '[psi]' } })
  const whole = (value: number) => (unit === 'Pa' ? psi(value) : {})
  return {
    ...(rule.least === undefined
      ? {}
      : { ...named(rule.least, unit, 'pMin', 'p', 'ratioMin', 'share', 'cutIn'), ...whole(rule.least) }),
    ...(rule.most === undefined
      ? {}
      : { ...named(rule.most, unit, 'pMax', 'dpMax', 'tMax', 'band', 'cutOut'), ...whole(rule.most) }),
  }
}

/** Rows that ask for a plain rule, by the words that single it out; the first that fits. */
const PLAIN: [RegExp, keyof typeof AIR_BRAKE_RULES, string][] = [
  [/cut-in, trucks/, 'cutInTruck', 'Pa'],
  [/cut-in, bus/, 'cutInBus', 'Pa'],
  [/reservoirs?, trailers?|trailer.*reservoir/i, 'reservoirsTrailer', '1'],
  [/volume of service and supply reservoirs/, 'reservoirs', '1'],
  [/^Warning must be on below/, 'warning', 'Pa'],
  [/share of governor cut-out/, 'warningShare', '1'],
  [/^Full application.*share of the pressure/, 'reserve', '1'],
  [/^Low-pressure warning must come on before/, 'warningInUse', 'Pa'],
  [/^Dual system.*85 to 100 psi/, 'buildUpInUse', 's'],
  [/before 1975/, 'buildUpBefore1975', 's'],
  [/^Governor cut-in and cut-out/, 'governor', 'Pa'],
  [/[Ss]pring brakes?/, 'springBrakes', 'Pa'],
  [/^Ontario.*class A/, 'ontarioCombination', 'Pa'],
  [/^Ontario.*(class [BD]|single)/, 'ontarioSingle', 'Pa'],
  [/^Ontario.*window/, 'ontarioWindow', 'Pa'],
  [/^Ontario.*cut-out is a defect/, 'ontarioCutOut', 'Pa'],
  [/^Ontario.*cut-in is a defect/, 'ontarioCutIn', 'Pa'],
  [/^Locomotive governor/, 'locomotiveBand', 'Pa'],
]

/** Vehicles coupled, as a row says it. */
const vehicles = (row: Row) => (/single/.test(row.what) ? 1 : /of two/.test(row.what) ? 2 : 3)

const leak: Topic = (row) => {
  const most = (brakes: 'released' | 'applied') => leakRule(vehicles(row), brakes, number(row, 'dt', 's')).most ?? Number.NaN
  const asked = /applied/.test(row.what) ? 'applied' : 'released'
  return {
    ...named(most(asked), 'Pa', 'dpMax'),
    ...named(most('released'), 'Pa', 'released'),
    ...named(most('applied'), 'Pa', 'applied'),
  }
}

const freeAir: Topic = (row) => {
  const { freeAir } = leakFromDecay(number(row, 'V', 'm3'), number(row, 'dp', 'Pa'), number(row, 'dt', 's'))
  return named(freeAir, 'm3/s', 'q', 'qFree')
}

const COMPUTED: RowSort[] = [
  { inputs: ['volumeRatio'], answer: (row) => limits(buildUpRule(inputIn(row, 'volumeRatio', '1')), 's') },
  { inputs: ['V', 'dp', 'dt'], answer: freeAir },
  { words: /^Hydrostatic/, inputs: ['pCutOut'], answer: (row) => limits(reservoirProof(number(row, 'pCutOut', 'Pa')), 'Pa') },
  { words: /in-service warning/, inputs: ['pCutOut'], answer: (row) => limits(warningRule(number(row, 'pCutOut', 'Pa')), 'Pa') },
  { words: /full application/, inputs: ['p'], answer: (row) => limits(reserveRule(number(row, 'p', 'Pa')), 'Pa') },
  { words: /[Ll]argest .*loss in one minute/, inputs: ['dt'], answer: leak },
  {
    words: /^Check valve back-leak/,
    answer: () => ({ ...named(R.checkValve.most ?? Number.NaN, 'Pa', 'dpMax'), in: { value: 10, unit: 'min' } }),
  },
]

/** Topic 8. */
export const brake: Topic = sorts(
  [...COMPUTED, ...PLAIN.map(([words, rule, unit]) => ({ words, answer: () => limits(R[rule], unit) }))],
  'the project carries no such clause of an air-brake rule',
)
