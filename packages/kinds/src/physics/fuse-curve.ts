import { whereReaches } from './interpolate.js'
import { notNegative, positive } from './require.js'

/**
 * Thermal model of a fuse link: its rise over the surroundings goes with the square of the current, a `quick` share of it with
 * the time constant of the link, the rest with that of terminals and wire. It opens at the rise that `holds` times the rated
 * current brings in the end.
 */
export interface FuseLink {
  /** Greatest multiple of the rated current carried for ever, > 1 [1] */
  holds: number
  /** Share of the rise that comes with the link's own time constant, 0 to 1 [1] */
  quick: number
  /** Time constant of the link [s] */
  link: number
  /** Time constant of what it is fastened to [s] */
  body: number
}

/**
 * Links by the standard they are sold to. The four numbers of each are assumptions of ours, chosen so that the curve lies within
 * the operating-time limits: ISO 8820-3 types C, F and E (from memory), UL 248-14 fast and time-delay, IEC 60127-2 sheet 1.
 */
export const FUSE_LINKS = {
  bladeC: { holds: 1.25, quick: 0.7, link: 0.8, body: 30 },
  bladeF: { holds: 1.25, quick: 0.7, link: 0.8, body: 30 },
  bladeE: { holds: 1.25, quick: 0.7, link: 10, body: 150 },
  ulFast: { holds: 1.2, quick: 0.7, link: 0.5, body: 30 },
  ulDelay: { holds: 1.2, quick: 0.7, link: 20, body: 150 },
  iecFast: { holds: 1.75, quick: 0.7, link: 0.25, body: 30 },
} as const satisfies Record<string, FuseLink>

/** One fuse opens up to this much sooner or later than the curve, as a factor; an assumption. */
const SPREAD = 1.3

/**
 * Time until a fuse opens at a steady current from the cold [s]; infinite where it holds.
 *     x² (quick (1 − e^(−t/link)) + (1 − quick)(1 − e^(−t/body))) = holds²
 * @param multiple current over rated current, x [1], >= 0
 * Source: two first-order lags in parallel (general heat conduction); the limits it is held to are in the fuse rows of the
 * handbook.
 * @throws HalfsplitError VALUE_IMPOSSIBLE
 */
export function openingTime(link: FuseLink, multiple: number): number {
  const share = positive(link.holds, 'what the fuse holds') ** 2 / notNegative(multiple, 'the multiple of rated current') ** 2
  if (share >= 1) return Number.POSITIVE_INFINITY
  // 1 − e^(−t) by expm1, so that a dead short opens in its microseconds and not in none.
  const rise = (t: number) => -link.quick * Math.expm1(-t / link.link) - (1 - link.quick) * Math.expm1(-t / link.body)
  return Math.exp(whereReaches((logarithm) => rise(Math.exp(logarithm)), share, Math.log(1e-12), Math.log(50 * link.body)))
}

/** Times between which fuses of this kind open [s], infinite where none does. Arguments as in `openingTime`. */
export function openingBand(link: FuseLink, multiple: number): { least: number; most: number } {
  const time = openingTime(link, multiple)
  return { least: time / SPREAD, most: time * SPREAD }
}

/**
 * Melting integral of a link [A² s]: what a current so high that no heat is lost must let through. Formula as
 * `openingTime`, t → 0.
 * @param rating [A], > 0
 */
export function meltingIntegral(link: FuseLink, rating: number): number {
  return (positive(rating, 'the rated current') * link.holds) ** 2 / (link.quick / link.link + (1 - link.quick) / link.body)
}

/**
 * What ISO 8820-3 covers: rated voltages [V], largest rating [A], breaking capacity [A]. A battery can give more than it
 * breaks.
 */
export const BLADE_FUSE_SCOPE = { voltage: 32, highVoltage: 58, largestRating: 100, breakingCapacity: 1000 } as const

/**
 * Greatest continuous load of a fuse as a share of its rating [1]. Common practice, no source: it stands in warm air beside
 * others.
 */
export const CONTINUOUS_SHARE = 0.8

/** Sizes one can buy [A]: blade fuses, then bolted links. Common practice, no source. */
const SIZES = [
  1, 2, 3, 4, 5, 7.5, 10, 15, 20, 25, 30, 35, 40, 50, 60, 70, 80, 100, 125, 150, 175, 200, 225, 250, 300, 350, 400, 450, 500,
]

/** Blade fuses one can buy [A]: the ratings of ISO 8820-3, types C, E and F, from memory. */
const BLADES = SIZES.filter((size) => size <= BLADE_FUSE_SCOPE.largestRating)

/**
 * Smallest blade fuse that carries a current for long: the current is at most `CONTINUOUS_SHARE` of its rating. Undefined where none does.
 * @param current [A], >= 0   Checked in fuse-curve.test.ts   @throws HalfsplitError VALUE_IMPOSSIBLE
 */
export function bladeFuseFor(current: number): number | undefined {
  const least = notNegative(current, 'the current') / CONTINUOUS_SHARE
  return BLADES.find((size) => size >= least)
}

/**
 * Current a wire may carry until its fuse opens, per area [A/m²]. Common practice, no source: posted tables lie at 5.7 to 7.2
 * A/mm².
 */
const WIRE_DENSITY = 5.5e6

/** Current a copper wire may carry for long, until its fuse opens [A]. @param area of the copper [m²], > 0 */
export const wireBears = (area: number): number => WIRE_DENSITY * positive(area, 'the area of the wire')

/**
 * Largest size of fuse that still protects a copper wire [A]; undefined where even the smallest does not.
 * @param area of the copper [m²], > 0   @throws HalfsplitError VALUE_IMPOSSIBLE
 */
export function largestFuse(area: number): number | undefined {
  const most = wireBears(area)
  return SIZES.findLast((size) => size <= most)
}
