import type { System } from '@halfsplit/system'

/**
 * Numbers for every latent of a job: those of the description, the sizes of a hypothesis' faults, whether a cure took, each
 * meter's gain and zero by range, and the redrawn values of replaced parts. The same name always gets the same number.
 */
export class LatentSpace {
  private readonly extra = new Map<string, number>()

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

  /** A latent of the description, or the one drawn anew when its part was replaced for the n-th time. */
  redrawn(latent: number, times: number): number {
    return times === 0 ? latent : this.named(`redrawn ${latent} ${times}`)
  }
}
