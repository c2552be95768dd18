import type { Random } from '@halfsplit/core'
import type { Signal } from '@halfsplit/network'
import type { System } from '@halfsplit/system'

/** How specimens and meters come off the line. */
export interface Making {
  /** A latent quantity, counted in its standard deviations from the middle. */
  spread: (random: Random) => number
  /** A meter's own error as a share of its maker's limit, -1 to 1. */
  meterError: (random: Random) => number
}

/** As the description says it: normal parts, meters anywhere within their limits. */
export const USUAL_MAKING: Making = { spread: (random) => random.normal(), meterError: (random) => 2 * random.uniform() - 1 }

/** The latent quantities of one machine, drawn once; those of a part that is replaced are drawn anew. */
export class Draws {
  readonly z: Float64Array
  private readonly spares: Random

  constructor(
    private readonly system: System,
    private readonly random: Random,
    private readonly spread: Making['spread'] = USUAL_MAKING.spread,
  ) {
    this.z = Float64Array.from(system.latents, () => spread(random))
    this.spares = random.fork('spares')
  }

  /** Another specimen of a part stays in the machine. */
  renew(part: string): void {
    for (const index of this.ownOf(part)) this.z[index] = this.spread(this.spares)
  }

  /** The draws with a like part tried in place of one, the same specimen each time. */
  withSpare(part: string): Float64Array {
    const z = Float64Array.from(this.z)
    for (const index of this.ownOf(part)) z[index] = this.spread(this.random.fork(`like ${part} ${index}`))
    return z
  }

  /** What the machine imposes on a part, as a coolant's temperature, is not the part's own and stays. */
  private ownOf(part: string): number[] {
    return this.system.latents.filter((one) => one.part === part && !one.rating.startsWith('=')).map(({ index }) => index)
  }
}

/** Trip and reset are drawn each for itself; a real switch whose reset would come out above its trip has no gap between the two. */
export const asBuilt = (signals: readonly Signal[]): Signal[] =>
  signals.map((one) => (one.type === 'threshold' && one.fall > one.rise ? { ...one, fall: one.rise } : one))
