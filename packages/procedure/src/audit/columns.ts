import { createRandom, normalQuantile, type Random } from '@halfsplit/core'
import type { Sensitivities } from '@halfsplit/inference'

/**
 * Specimens of a machine drawn side by side: for each latent quantity one column of standard normal draws, for every fault the same.
 * A column goes evenly over its law, in random order (Latin hypercube sampling: McKay, Beckman & Conover 1979, from memory), so
 * that a few specimens do for many: none lies where only one in thousands would.
 */
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
    return this.column(this.normals, name, normalQuantile)
  }

  /** Draws between 0 and 1. */
  uniform(name: string): Float64Array {
    return this.column(this.uniforms, name, (share) => share)
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

  /** Every stretch of equal chance holds one specimen, in an order of the column's own. */
  private column(known: Map<string, Float64Array>, name: string, at: (share: number) => number): Float64Array {
    let column = known.get(name)
    if (!column) {
      column = Float64Array.from({ length: this.count }, (_, i) => at((i + 0.5) / this.count))
      shuffle(column, this.random.fork(name))
      known.set(name, column)
    }
    return column
  }
}

function shuffle(column: Float64Array, random: Random): void {
  for (let i = column.length - 1; i > 0; i -= 1) {
    const j = random.integer(i + 1)
    const kept = column[i]
    column[i] = column[j]
    column[j] = kept
  }
}
