import { interpolate } from './interpolate.js'
import { within } from './require.js'

const ZERO_CELSIUS = 273.15

/**
 * Logarithm of the time to a serious burn [s] by temperature of water or metal [degC].
 * Source: burn institute, as posted in degF.
 */
const BURN = [
  [120, 300],
  [125, 105],
  [130, 30],
  [135, 10],
  [140, 5],
  [145, 3],
  [150, 1.5],
  [155, 1],
].map(([degF, seconds]) => [(degF - 32) / 1.8, Math.log(seconds)] as const)

/**
 * Time until hot water or metal burns skin seriously [s].
 * @param temperature 322 to 341.4 [K]   Source: burn institute, as posted.
 * @throws HalfsplitError VALUE_IMPOSSIBLE
 */
export function burnTime(temperature: number): number {
  return Math.exp(interpolate(BURN, temperature - ZERO_CELSIUS, 'the temperature of the surface in degC'))
}

/**
 * How much hotter than metal a surface may be for the same burn [K]: it gives its heat more slowly.
 * Source: burn institute, as posted.
 */
export const BURN_MARGIN = { metal: 0, glass: 10, plastic: 25 } as const

/**
 * Burn threshold of any material [degC] over the logarithm of the contact time [s]: 1 min, 10 min, 8 h.
 * Source: ISO 13732-1 (from memory).
 */
const THRESHOLD = [
  [Math.log(60), 51],
  [Math.log(600), 48],
  [Math.log(28800), 43],
] as const

/**
 * Temperature a surface of any material may have for a contact of 60 s and longer [K]; constant from 8 h on.
 * Source: ISO 13732-1 (from memory).   @throws HalfsplitError VALUE_IMPOSSIBLE
 */
export function burnThreshold(contact: number): number {
  const time = Math.min(within(contact, 60, Number.MAX_VALUE, 'the time of contact'), 28800)
  return ZERO_CELSIUS + interpolate(THRESHOLD, Math.log(time), 'the logarithm of the contact time')
}

/**
 * Burn threshold of bare smooth metal touched for a second: between these [K]; up to half a second none below the first.
 * Source: ISO 13732-1 (from memory).
 */
export const METAL_TOUCH = { least: ZERO_CELSIUS + 65, most: ZERO_CELSIUS + 70 } as const
