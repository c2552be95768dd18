import { convert, STANDARD_ATMOSPHERE } from '@halfsplit/core'
import {
  airPressureAt,
  boilingPoint,
  coolantDensity,
  coolantHeat,
  freezingPoint,
  massShare,
  saturationPressure,
  saturationTemperature,
  volumeShare,
} from '@halfsplit/kinds'
import { inputIn, number, type Row, sorts, type Topic } from './handbook-row.js'

const kelvin = (value: number) => ({ value, unit: 'K' })

/** Temperature of coolant at work where a row gives none [K]: 40 degC. */
const AT_WORK = 313.15
const AT_20 = 293.15

/** Mass share of glycol: `w` by mass, `phi` by volume, `c` of a manual that does not say which and whose densities fit mass. */
function glycol(row: Row): number {
  const volume = inputIn(row, 'phi', '1')
  return volume === undefined ? (inputIn(row, 'w', '1') ?? number(row, 'c', '1')) : massShare(volume)
}

/** Absolute pressure of a row [Pa]: given, or by its cap over the air's; the air's by altitude, else one atmosphere. */
function pressure(row: Row): number {
  const given = inputIn(row, 'p', 'Pa')
  if (given !== undefined) return given
  const altitude = inputIn(row, 'altitude', 'm')
  const air = inputIn(row, 'pAtm', 'Pa') ?? (altitude === undefined ? STANDARD_ATMOSPHERE : airPressureAt(altitude))
  return air + (inputIn(row, 'pGauge', 'Pa') ?? 0)
}

const boils: Topic = (row) => {
  const t = kelvin(boilingPoint(row.input && ('phi' in row.input || 'w' in row.input) ? glycol(row) : 0, pressure(row)))
  return { t, tF: t }
}

const freezes: Topic = (row) => {
  const t = kelvin(freezingPoint(glycol(row)))
  return { t, tFreeze: t, rho20: { value: coolantDensity(glycol(row), AT_20), unit: 'kg/m3' } }
}

/** Can a switch be opened in an open pot of water: the hottest the water gets, and where the switch opens. */
const pot: Topic = (row) => ({
  tWaterMax: kelvin(boilingPoint(0, pressure(row))),
  tOpenMinC: kelvin(number(row, 'tOpenMin', 'K')),
})

const heat: Topic = (row) => ({
  cp: { value: coolantHeat(glycol(row), inputIn(row, 't', 'K') ?? AT_WORK), unit: 'J/(kg.K)' },
})

const density: Topic = (row) => ({
  rho: { value: coolantDensity(glycol(row), inputIn(row, 't', 'K') ?? AT_20), unit: 'kg/m3' },
})

const byMass: Topic = (row) => ({ w: { value: massShare(number(row, 'phi', '1')), unit: '1' } })

const byVolume: Topic = (row) => ({ phi: { value: volumeShare(number(row, 'w', '1')), unit: '1' } })

const capRule = {
  cannot: `a rule of thumb with one number for all pressures; the first psi raises water by ${(
    1.8 * (saturationTemperature(STANDARD_ATMOSPHERE + convert(1, '[psi]', 'Pa')) - saturationTemperature(STANDARD_ATMOSPHERE))
  ).toFixed(1)} degF, later ones by less`,
}

/** Topic 5. */
export const coolant: Topic = sorts(
  [
    {
      inputs: ['T'],
      words: /^Saturation/,
      answer: (row) => ({ p: { value: saturationPressure(number(row, 'T', 'K')), unit: 'Pa' } }),
    },
    { inputs: ['p'], words: /^Saturation/, answer: (row) => ({ T: kelvin(saturationTemperature(number(row, 'p', 'Pa'))) }) },
    { inputs: ['tOpenMin'], answer: pot },
    { words: /^Rule of the trade/, answer: () => capRule },
    { words: /\bboils?\b|under a .* cap/, answer: boils },
    { words: /as volume %/, inputs: ['w'], answer: byVolume },
    { words: /as mass %/, inputs: ['phi'], answer: byMass },
    { words: /[Ss]pecific heat|heat per pound/, answer: heat },
    { words: /^Density/, answer: density },
    { words: /[Ff]reezing|protects to/, answer: freezes },
  ],
  'no boiling, freezing, density or heat of water or coolant',
)
