import { normalPdf, normalQuantile } from '@halfsplit/core'
import type { Sensitivities } from '@halfsplit/inference'
import type { Latent, System } from '@halfsplit/system'

/**
 * Numbers for every latent of a job: those of the description, the sizes of a hypothesis' faults, whether a cure took, each
 * meter's gain and zero by range, and the redrawn values of replaced parts. The same name always gets the same number.
 */
export class LatentSpace {
  private readonly extra = new Map<string, number>()
  private readonly known = new Map<number, Moments>()
  private readonly chances = new Map<string, { mean: number; sensitivities: Sensitivities }>()

  constructor(private readonly system: System) {}

  /** Latent with a name of the caller's: `gain multimeter 40`, `size K7.coil_open`. */
  named(name: string): number {
    let index = this.extra.get(name)
    if (index === undefined) {
      index = this.system.latents.length + this.extra.size
      this.extra.set(name, index)
    }
    return index
  }

  /** A margin that is above zero with a given probability, its outcome shared by all who name it: whether a cure took. */
  chance(name: string, share: number): { mean: number; sensitivities: Sensitivities } {
    const key = `${name} ${share}`
    let chance = this.chances.get(key)
    if (!chance) {
      chance = { mean: normalQuantile(share), sensitivities: { index: [this.named(name)], value: [1] } }
      this.chances.set(key, chance)
    }
    return chance
  }

  /** A latent of the description, or the one drawn anew when its part was replaced for the n-th time. */
  redrawn(latent: number, times: number): number {
    return times === 0 ? latent : this.named(`redrawn ${latent} ${times}`)
  }

  /** How a latent's mean and sd stand to the straight line through its middle: a worn joint lies further out than the line says. */
  moments(latent: number): Moments {
    let moments = this.known.get(latent)
    if (!moments) {
      const own = this.system.latents[latent]
      moments = own ? momentsOf(own) : STRAIGHT
      this.known.set(latent, moments)
    }
    return moments
  }

  /** What curved latents add to the mean of a quantity that moves by `slopes` with one sd of each. */
  offset(latents: Int32Array, slopes: ArrayLike<number>): number {
    let sum = 0
    for (let i = 0; i < latents.length; i += 1) sum += slopes[i] * this.moments(latents[i]).offset
    return sum
  }
}

export interface Moments {
  /** Sd over the slope at the middle: 1.44 for a joint whose sd is a factor of 2, 0.72 for a rectangular tolerance. */
  gain: number
  /** Mean less the middle, in sd. */
  offset: number
}

const STRAIGHT: Moments = { gain: 1, offset: 0 }
const STEP = 0.02
const REACH = 6

/** Mean and sd by summing over the normal density, in steps fine enough for any law that is smooth or has a few corners. */
function momentsOf({ at }: Latent): Moments {
  const middle = at(0)
  const slope = (at(1e-3) - at(-1e-3)) / 2e-3
  if (slope === 0) return STRAIGHT
  let mean = 0
  let square = 0
  for (let z = -REACH; z <= REACH + STEP / 2; z += STEP) {
    const away = at(z) - middle
    const weight = normalPdf(z) * STEP
    mean += weight * away
    square += weight * away * away
  }
  const sd = Math.sqrt(square - mean * mean)
  return { gain: sd / Math.abs(slope), offset: (mean / sd) * Math.sign(slope) }
}
