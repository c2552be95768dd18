import { STANDARD_ATMOSPHERE } from '@halfsplit/core'
import { type Charge, type Element, REFERENCE } from '@halfsplit/network'
import type { Look, PartView } from '../kind.js'

/** Gas constant of dry air [J/(kg K)], and the temperature of the air in a tank [K]: 20 degC, an assumption. */
const GAS_CONSTANT = 287
const TANK_TEMPERATURE = 293.15

/** Air that a volume takes for each pascal at constant temperature [kg/Pa]:  V/(R T). @param volume [m3]   Source: ideal gas law. */
export const gasCapacity = (volume: number): number => volume / (GAS_CONSTANT * TANK_TEMPERATURE)

/** The volume [m3] that takes so much air for each pascal [kg/Pa]: the other way round. */
export const volumeOfCapacity = (capacity: number): number => capacity * GAS_CONSTANT * TANK_TEMPERATURE

/**
 * A volume of air at a node.
 * @param holds what the state imposes at rest [Pa absolute]; left out it is at what its line brings
 * @param exponent of its change of state; 1, at constant temperature, when left out
 */
export const airVolume = (id: string, a: string, volume: number, holds?: number, exponent = 1): Element => ({
  type: 'store',
  id,
  a,
  b: REFERENCE,
  charge: chargeOf(gasCapacity(volume), exponent),
  ...(holds === undefined ? {} : { holds }),
})

/** Air that warms as it is pressed in holds less at a pressure than at constant temperature; at that of the open air it is as warm as it. */
const chargeOf = (capacity: number, exponent: number): Charge =>
  exponent === 1 ? { charge: 'linear', capacity } : { charge: 'polytropic', capacity, reference: STANDARD_ATMOSPHERE, exponent }

/** How the air of a tank changes its state, for tanks that ask. */
export const AIR_STATE = {
  choice: {
    about: 'change of state of its air: slow, at constant temperature, or quick, so that it warms as it is pressed in',
    words: ['isothermal', 'polytropic'],
    default: 'isothermal',
  },
  // Between 1.2 and 1.4 for tanks filled in minutes or seconds. Common practice, no source.
  exponent: { dimension: 'fraction', about: 'of a polytropic change', default: '1.3' },
} as const

/** The exponent asked for. */
export const exponentOf = (part: PartView): number => (part.word('state') === 'polytropic' ? part.value('exponent') : 1)

const BAR_A_MINUTE = 1e5 / 60

/**
 * How the needle of a gauge moves, watched for a minute or two. A loss under a twentieth of a bar a minute is missed, one of half a bar
 * to a bar is fast; filling is slow below the 1.2 to 1.6 bar a minute that bring 5.9 to 6.9 bar in 45 s. The levels are an assumption.
 * @param share of the whole volume that empties and fills together which the store `volume` is
 */
export function needleLook(about: string, share: (part: PartView) => number): Look {
  const levels = [
    [-1, -0.5],
    [-0.15, -0.05],
    [0.05, 0.15],
    [1.2, 1.6],
  ]
  return {
    name: 'needle',
    about,
    words: ['falls fast', 'falls', 'holds', 'rises slowly', 'rises'],
    levels: levels.map(([low, high]) => [low * BAR_A_MINUTE, high * BAR_A_MINUTE]),
    quantity: (part) => {
      const scale = 1 / gasCapacity(part.value('volume'))
      return { probe: { through: 'volume' }, scale: share(part) * scale, scaleOverTime: scale }
    },
    by: 'operator',
    minutes: 2,
  }
}
