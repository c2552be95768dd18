import {
  airDensityRatio,
  type Arrangement,
  biot,
  coolantDensity,
  coolantHeat,
  effectiveness,
  exchangedHeat,
  fanPower,
  fanRatios,
  IRON_HEAT,
  lumpedTimeConstant,
  sphereLength,
  timeToTemperature,
  timeUntilLeft,
  transferUnits,
  warmUpTime,
} from '@halfsplit/kinds'
import { type Answers, inputIn, named, number, type Row, said, sorts, type Topic } from './handbook-row.js'

const pure = (value: number, ...names: string[]) => named(value, '1', ...names)

/** Time constant of a bead [s]. */
function bead(row: Row): number {
  const body = {
    density: number(row, 'rho', 'kg/m3'),
    heat: number(row, 'c', 'J/(kg.K)'),
    length: sphereLength(number(row, 'D', 'm')),
  }
  return lumpedTimeConstant(body, number(row, 'h', 'W/(m2.K)'))
}

/** Time of a bead from one temperature into gas of another until a third, as the words say; or to 99 % of a step. */
const step: Topic = (row) => {
  const [start, gas, target] = [/(-?[\d.]+) Cel into/, /into (-?[\d.]+) Cel/, /time to (-?[\d.]+) Cel/].map((words) =>
    said(row, words, 'Cel', 'K'),
  )
  const share = said(row, /time to ([\d.]+) %/, '%', '1')
  const tau = bead(row)
  const t = Number.isNaN(share) ? timeToTemperature(start, gas, target, tau) : timeUntilLeft(tau, 1 - share)
  return { ...named(t, 's', 't'), ...named(tau, 's', 'tau'), ...named(1 / tau, '/s', 'b') }
}

/** "The same junction" has the inputs of an earlier row of its example. */
function sameBead(row: Row, all: readonly Row[]): Answers {
  const example = row.id.replace(/[^.]*$/, '')
  const first = all.find(({ id, input = {} }) => id.startsWith(example) && ['D', 'rho', 'c', 'h'].every((name) => name in input))
  if (!first) return { cannot: 'density and specific heat of the junction stand in no row of the file' }
  return step({ ...row, input: first.input }, all)
}

const biotNumber: Topic = (row) => {
  const [film, k] = [number(row, 'h', 'W/(m2.K)'), number(row, 'k', 'W/(m.K)')]
  return pure(biot(film, sphereLength(number(row, 'D', 'm')), k), 'Bi')
}

/** Capacity flows of the two streams of a row [W/K]. */
const streams = (row: Row): [number, number] => [
  number(row, 'mAir', 'kg/s') * number(row, 'cpAir', 'J/(kg.K)'),
  number(row, 'mWater', 'kg/s') * number(row, 'cpWater', 'J/(kg.K)'),
]

const units: Topic = (row) => {
  const ua = number(row, 'U', 'W/(m2.K)') * number(row, 'A', 'm2')
  const { ntu, ratio } = transferUnits(ua, ...streams(row))
  return { ...pure(ntu, 'NTU'), ...pure(ratio, 'Cr') }
}

/** Arrangement as the row says it; an exchanger that is "the same" is the cross-flow one of the file. */
function arrangement(row: Row): Arrangement | undefined {
  if (/[Cc]ounterflow/.test(row.what)) return 'counter'
  if (/[Pp]arallel/.test(row.what)) return 'parallel'
  return /both unmixed|[Aa]ny arrangement|^Same exchanger/.test(row.what) ? 'cross' : undefined
}

const share: Topic = (row) => {
  const kind = arrangement(row)
  if (!kind) return { cannot: 'the relation of this arrangement is not among those computed' }
  return pure(effectiveness(kind, number(row, 'NTU', '1'), number(row, 'Cr', '1')), 'eff')
}

/** The streams of "the same exchanger" stand in the row before. */
const outlet: Topic = (row, all) => {
  const first = all.find((other) => other.input && 'mAir' in other.input)
  const kind = arrangement(row)
  if (!first || !kind) return { cannot: 'the row with the streams of this exchanger is not here' }
  const [hot, cold] = [number(row, 'tHot', 'K'), number(row, 'tCold', 'K')]
  const eff = effectiveness(kind, number(row, 'NTU', '1'), number(row, 'Cr', '1'))
  const [air, water] = streams(first)
  const heat = exchangedHeat(eff, Math.min(air, water), hot, cold)
  return {
    ...pure(eff, 'eff'),
    ...named(heat, 'W', 'Q'),
    ...named(hot - heat / air, 'K', 'tAirOut'),
    ...named(cold + heat / water, 'K', 'tWaterOut'),
  }
}

const byFlow: Topic = (row) => {
  const ratios = fanRatios(number(row, 'q2', 'm3/s') / number(row, 'q1', 'm3/s'))
  return {
    ...named(number(row, 'P1', 'W') * ratios.power, 'W', 'P2'),
    ...named(number(row, 'dp1', 'Pa') * ratios.pressure, 'Pa', 'dp2'),
  }
}

const bySpeed: Topic = (row) => {
  const { flow, pressure, power } = fanRatios(number(row, 'n', '1'))
  return { ...pure(flow, 'q'), ...pure(pressure, 'p'), ...pure(power, 'P') }
}

const byDensity: Topic = (row) => {
  const { pressure, power } = fanRatios(1, airDensityRatio(number(row, 't1', 'K'), number(row, 't2', 'K')))
  return { ...pure(pressure, 'p'), ...pure(power, 'P') }
}

const shaft: Topic = (row) =>
  named(fanPower(number(row, 'q', 'm3/s'), number(row, 'dp', 'Pa'), inputIn(row, 'eff', '1') ?? 1), 'W', 'P')

/** Iron and coolant from one temperature to another; the coolant's own properties half way. */
const warmUp: Topic = (row) => {
  const [from, to] = [said(row, /from (-?[\d.]+) to/, 'Cel', 'K'), said(row, /from -?[\d.]+ to (-?[\d.]+) Cel/, 'Cel', 'K')]
  const glycol = said(row, /of ([\d.]+) mass% coolant/, '%', '1')
  if ([from, to, glycol].some(Number.isNaN)) return { cannot: 'the row does not say which coolant, or from where to where' }
  const middle = (from + to) / 2
  const coolant = number(row, 'V', 'm3') * coolantDensity(glycol, middle) * coolantHeat(glycol, middle)
  return named(warmUpTime(number(row, 'mIron', 'kg') * IRON_HEAT + coolant, to - from, number(row, 'P', 'W')), 's', 't')
}

/** Topic 14. */
export const heat: Topic = sorts(
  [
    { words: /Biot/, inputs: ['D', 'k', 'h'], answer: biotNumber },
    { inputs: ['D', 'rho', 'c', 'h'], answer: step },
    { inputs: ['mAir', 'mWater', 'U', 'A'], answer: units },
    { inputs: ['NTU', 'Cr', 'tHot', 'tCold'], answer: outlet },
    { inputs: ['NTU', 'Cr'], answer: share },
    { inputs: ['q1', 'q2'], answer: byFlow },
    { words: /^Fan speed/, inputs: ['n'], answer: bySpeed },
    { words: /power ratio/, inputs: ['t1', 't2'], answer: byDensity },
    { inputs: ['q', 'dp'], answer: shaft },
    { inputs: ['mIron', 'V', 'P'], answer: warmUp },
    { words: /^Same junction/, answer: sameBead },
  ],
  'no lumped body, exchanger, fan or warm-up with what it takes to compute it',
)
