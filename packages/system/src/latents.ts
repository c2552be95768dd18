import { ASSUMPTIONS, dimensionFacts, normalCdf, type Quantity, STANDARD_ATMOSPHERE } from '@halfsplit/core'
import type { Rating } from '@halfsplit/kinds'
import type { Latent, Part, State } from './model.js'

/** A part is never drawn with less than this share of its nominal value, where less than nothing has no meaning. An assumption. */
const LEAST_SHARE = 0.01

/**
 * The latent quantities of a machine, in the order of its description: every rating with a spread (its tolerance, a maker's limit,
 * or the wear of joints), then every imposed setting that is known only to so much.
 * The latter count in spreads of the state that imposes them: one draw, as wide as each state says.
 */
export function latentsOf(parts: Iterable<Part>, states: Iterable<State>): Latent[] {
  const latents: Latent[] = []
  const add = (part: string, rating: string, title: string, at: (z: number) => number) =>
    latents.push({ id: `${part}.${rating.replace('=', '')}`, index: latents.length, part, rating, title, at })
  const all = [...parts]
  for (const part of all) {
    for (const [name, rating] of Object.entries(part.kind.ratings)) {
      const quantity = part.ratings.get(name)
      const at = quantity && ratingLaw(quantity, rating)
      if (at) add(part.name, name, `${rating.about}, ${part.name}`, at)
    }
  }
  for (const [key, { part, setting }] of imposedSpreads(states)) add(part, `=${setting}`, key, (z) => z)
  return latents
}

function imposedSpreads(states: Iterable<State>): Map<string, { part: string; setting: string }> {
  const spreads = new Map<string, { part: string; setting: string }>()
  for (const state of states) {
    for (const { part, setting, sd } of state.impose) if (sd > 0) spreads.set(`${setting} of ${part}`, { part, setting })
  }
  return spreads
}

/** Value [SI] of a rating at z, or undefined if it is exact. */
export function ratingLaw(quantity: Quantity, rating: Rating): ((z: number) => number) | undefined {
  const { value, sd, law } = quantity
  if (quantity.relation !== 'equal') return makerLimitLaw(quantity)
  if (rating.spread === 'factor') {
    if (value === 0) return undefined
    const step = Math.log(sd > 0 ? 1 + sd / Math.abs(value) : ASSUMPTIONS.jointFactor)
    return (z) => value * Math.exp(step * z)
  }
  if (law === 'exact') return undefined
  const least = dimensionFacts(quantity.dimension).signed ? Number.NEGATIVE_INFINITY : value * LEAST_SHARE
  if (law === 'uniform') return (z) => Math.max(least, value + sd * Math.sqrt(3) * (2 * normalCdf(z) - 1))
  return (z) => Math.max(least, value + sd * z)
}

/**
 * `<= 18 V` is a maker's limit: healthy parts lie about a share of it, the limit being some sd away; `>=` mirrored.
 * The share of a pressure is of the gauge pressure.
 */
function makerLimitLaw({ value, relation, dimension }: Quantity): (z: number) => number {
  const zero = dimension === 'absolutePressure' ? STANDARD_ATMOSPHERE : 0
  const below = (1 - ASSUMPTIONS.makerLimitShare) * (value - zero)
  const mean = relation === 'at most' ? value - below : value + below
  const sd = Math.abs(below) / ASSUMPTIONS.makerLimitSd
  return (z) => mean + sd * z
}
