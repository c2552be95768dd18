import {
  BATTERY_RATINGS,
  CHARGING_CELL,
  CRANKING_DROPS,
  CRANKING_REST,
  cellVoltage,
  crankingLoopDrop,
  electrolyteFreezing,
  gravityCorrection,
  gravityForPower,
  internalResistance,
  leastCrankingVoltage,
  POSITIVE_CABLE_DROP,
  RESTED_AFTER,
  restVoltage,
  SUPPLY_CODES,
  SUPPLY_TESTS,
  shortCircuitCurrent,
  specificGravity,
  voltageCorrection,
} from '@halfsplit/kinds'
import { type Answers, named, number, type Row, type RowSort, sorts, type Topic } from './handbook-row.js'

const volt = (value: number, ...names: string[]) => named(value, 'V', ...names)
const second = (value: number, ...names: string[]) => named(value, 's', ...names)

function atRest(row: Row): Answers {
  const charge = number(row, 'soc', '1')
  // "The same for two in series" stands after the row of one battery.
  const cells = /two in series/.test(row.what) ? 12 : 6
  if (!/^Open-circuit|two in series/.test(row.what)) return { cannot: 'no voltage at rest' }
  return { ...volt(restVoltage(charge, number(row, 't', 'K'), cells), 'U'), sg: { value: specificGravity(charge), unit: '1' } }
}

const correction: Topic = (row) => {
  const temperature = number(row, 'tF', 'K')
  return { dSg: { value: gravityCorrection(temperature), unit: '1' }, ...volt(voltageCorrection(temperature), 'dU') }
}

const cell = (value: number) => ({ ...volt(value, 'Ucell'), ...volt(6 * value, 'U12') })

/** A rating speaks for the temperature, time or current it is defined at, and for no other. */
function rating(row: Row, name: keyof typeof BATTERY_RATINGS): Answers {
  const defined: { temperature: number; time?: number; current?: number; cell: number } = BATTERY_RATINGS[name]
  const same = (given: number, meant?: number) =>
    Number.isNaN(given) || (meant !== undefined && Math.abs(given - meant) < 1e-6 * meant)
  const fits =
    same(number(row, 'tF', 'K'), defined.temperature) &&
    same(number(row, 'dt', 's'), defined.time) &&
    same(number(row, 'I', 'A'), defined.current)
  return fits ? cell(defined.cell) : { cannot: 'the rating is defined at another temperature, time or current' }
}

const resistance: Topic = (row) => {
  const rest = number(row, 'U0', 'V')
  const inner = internalResistance(rest, number(row, 'U1', 'V'), number(row, 'I', 'A'))
  return { Ri: { value: inner, unit: 'Ohm' }, Isc: { value: shortCircuitCurrent(rest, inner), unit: 'A' } }
}

const supply: Topic = (row) => {
  const code = row.input?.code
  const range = typeof code === 'string' ? SUPPLY_CODES[code] : undefined
  return range ? { ...volt(range.least, 'Umin'), ...volt(range.most, 'Umax') } : { cannot: 'the standard has no such code' }
}

/** Least voltages are printed to a tenth. */
const cranking: Topic = (row) => volt(leastCrankingVoltage(number(row, 'tF', 'K')), 'Umin')

const charging = (cells: number) => () => ({
  ...volt(cells * CHARGING_CELL.least, 'Umin'),
  ...volt(cells * CHARGING_CELL.most, 'Umax'),
})

const drop = (name: keyof typeof CRANKING_DROPS) => () => volt(CRANKING_DROPS[name], 'dUmax')

const PLAIN: RowSort[] = [
  { words: /cranking circuit.*cable under/, answer: drop('shortCable') },
  { words: /cranking circuit.*cable (over|of)/, answer: drop('longCable') },
  { words: /cranking circuit.*mechanical switch/, answer: drop('mechanicalSwitch') },
  { words: /cranking circuit.*solenoid switch/, answer: drop('solenoidSwitch') },
  { words: /cranking circuit.*magnetic switch/, answer: drop('magneticSwitch') },
  { words: /cranking circuit.*sum of the insulated side/, answer: drop('insulatedSide') },
  { words: /^Positive cable/, answer: () => volt(POSITIVE_CABLE_DROP, 'dUmax') },
  {
    words: /^Longest cranking/,
    answer: () => ({ ...second(CRANKING_REST.crank, 'tCrankMax'), ...second(CRANKING_REST.pause, 'tPauseMin') }),
  },
  {
    words: /^Test voltage with the alternator running/,
    answer: () => ({ ...volt(SUPPLY_TESTS.running12, 'U12'), ...volt(SUPPLY_TESTS.running24, 'U24') }),
  },
  {
    words: /jump start\), 12 V/,
    answer: () => ({ ...volt(SUPPLY_TESTS.jumpStart12.voltage, 'U'), ...second(SUPPLY_TESTS.jumpStart12.time, 'dt') }),
  },
  { words: /^Charging voltage at 20 Cel, 12 V/, answer: charging(6) },
  { words: /^Charging voltage at 20 Cel, 24 V/, answer: charging(12) },
  { words: /^Rest time before/, answer: () => second(RESTED_AFTER, 'tMin') },
]

/** The printed table is followed for a full battery only. */
const freezing: Topic = (row) => {
  const charge = number(row, 'soc', '1')
  const freezes = electrolyteFreezing(specificGravity(charge))
  if (charge === 1) return named(freezes, 'K', 't')
  const degrees = (freezes - 273.15).toFixed(0)
  return {
    cannot: `acid of this gravity freezes near ${degrees} degC; the printed points of part-charged batteries lie about 10 K lower`,
  }
}

/** Topic 9. */
export const battery: Topic = sorts(
  [
    { words: /freezing/i, inputs: ['soc'], answer: freezing },
    { inputs: ['soc', 't'], answer: atRest },
    { words: /^Correction to add/, inputs: ['tF'], answer: correction },
    { inputs: ['power'], answer: (row) => ({ sg: { value: gravityForPower(number(row, 'power', '1')), unit: '1' } }) },
    { words: /^Cell voltage/, inputs: ['sg'], answer: (row) => cell(cellVoltage(number(row, 'sg', '1'))) },
    { words: /^Cold-cranking rating/, answer: (row) => rating(row, 'coldCranking') },
    { words: /^Reserve capacity/, answer: (row) => rating(row, 'reserveCapacity') },
    { words: /circuit drop per current/, inputs: ['I'], answer: (row) => volt(crankingLoopDrop(number(row, 'I', 'A')), 'dUmax') },
    { words: /while cranking/, inputs: ['tF'], answer: cranking },
    { words: /^Supply-voltage range code/, inputs: ['code'], answer: supply },
    { inputs: ['U0', 'U1', 'I'], answer: resistance },
    ...PLAIN,
  ],
  'no voltage at rest, correction, rating, drop or supply range that the project carries',
)
