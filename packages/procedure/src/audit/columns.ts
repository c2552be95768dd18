import { createRandom, type Random } from '@halfsplit/core'
import type { Sensitivities } from '@halfsplit/inference'

/** Specimens of a machine drawn side by side: for each latent quantity one column of standard normal draws, the same for every fault. */
export class Columns {
  private readonly normals = new Map<string, Float64Array>()
  private readonly uniforms = new Map<string, Float64Array>()
  private readonly random: Random

  constructor(
    readonly count: number,
    seed: number | string,
  ) {
    this.random = createRandom(seed)
  }

  /** Standard normal draws of one name, one for each specimen. */
  normal(name: string): Float64Array {
    return this.column(this.normals, name, (own) => own.normal())
  }

  /** Draws between 0 and 1. */
  uniform(name: string): Float64Array {
    return this.column(this.uniforms, name, (own) => own.uniform())
  }

  /** `mean + J·z` for each specimen. */
  line(mean: number, { index, value }: Sensitivities): Float64Array {
    const sum = new Float64Array(this.count).fill(mean)
    for (let k = 0; k < index.length; k += 1) {
      const slope = value[k]
      if (slope === 0) continue
      const z = this.normal(`latent ${index[k]}`)
      for (let n = 0; n < this.count; n += 1) sum[n] += slope * z[n]
    }
    return sum
  }

  private column(known: Map<string, Float64Array>, name: string, draw: (own: Random) => number): Float64Array {
    let column = known.get(name)
    if (!column) {
      const own = this.random.fork(name)
      column = Float64Array.from({ length: this.count }, () => draw(own))
      known.set(name, column)
    }
    return column
  }
}
