import { clampedTurnOff, decadeStep, forwardVoltage, seriesResistor, thermalVoltage, zenerVoltage } from '@halfsplit/kinds'
import { inputIn, named, number, said, sorts, type Topic } from './handbook-row.js'

const volt = (value: number, ...names: string[]) => named(value, 'V', ...names)

const forward: Topic = (row) => {
  const junction = { saturation: number(row, 'Is', 'A'), emission: number(row, 'n', '1'), temperature: number(row, 't', 'K') }
  return volt(forwardVoltage(junction, number(row, 'I', 'A')), 'U')
}

/** n and the temperature stand in the words. */
const decade: Topic = (row) => {
  const [n, t] = [said(row, /n = ([\d.]+)/, '1', '1'), said(row, /(-?[\d.]+) Cel/, 'Cel', 'K')]
  return volt(decadeStep(inputIn(row, 't', 'K') ?? t, inputIn(row, 'n', '1') ?? n), 'dU')
}

const led: Topic = (row) => {
  const { resistance, power } = seriesResistor(number(row, 'U', 'V'), number(row, 'Uf', 'V'), number(row, 'I', 'A'))
  return { ...named(resistance, 'Ohm', 'R'), ...named(power, 'W', 'P') }
}

const clamp: Topic = (row) => {
  const coil = { resistance: number(row, 'R', 'Ohm'), inductance: number(row, 'L', 'H') }
  const { current, time, energy } = clampedTurnOff(coil, number(row, 'U', 'V'), number(row, 'Uc', 'V'))
  return { ...named(time, 's', 't'), ...named(current, 'A', 'Ipeak'), ...named(energy, 'J', 'Eclamp') }
}

const zener: Topic = (row) =>
  volt(zenerVoltage(number(row, 'Uz', 'V'), number(row, 'Iz', 'A'), number(row, 'rz', 'Ohm'), number(row, 'I', 'A')), 'U')

/** Topic 13. */
export const diode: Topic = sorts(
  [
    { words: /^Thermal voltage/, inputs: ['t'], answer: (row) => volt(thermalVoltage(number(row, 't', 'K')), 'Ut') },
    { inputs: ['I', 'Is', 'n', 't'], answer: forward },
    { words: /per decade of current/, answer: decade },
    { inputs: ['U', 'Uf', 'I'], answer: led },
    { inputs: ['L', 'R', 'U', 'Uc'], answer: clamp },
    { inputs: ['Uz', 'Iz', 'rz', 'I'], answer: zener },
    {
      words: /built-in diode/,
      answer: () => ({
        cannot: 'a rule of the trade in words, with no inputs to compute from',
      }),
    },
  ],
  'no junction, LED, clamp or zener with its numbers',
)
