import type { Sensitivities } from '@halfsplit/inference'
import { adjointOf, directShare, type Probe, type Settled, type Slopes, slopesOf } from '@halfsplit/network'
import type { LatentChange } from '@halfsplit/system'

/** How probes move with the latents at an arrival. */
export interface Sense {
  latents: Int32Array
  /** Sensitivity of each change is per unit of its own parameter; this brings it to one sd. */
  scale: Float64Array
  slopes: Slopes
  changes: readonly LatentChange[]
}

/** Sensitivities below this share of the largest are left out. */
const SMALL = 1e-3

/** Derivative of a probe by change, each per one sd of its latent. */
export function sensitivitiesOf(settled: Settled, sense: Sense, probe: Probe): Float64Array {
  const direct = 'through' in probe ? directShare(settled, probe) : undefined
  const all = slopesOf(sense.slopes, adjointOf(settled, probe), direct)
  for (let i = 0; i < all.length; i += 1) all[i] *= sense.scale[i]
  return all
}

/** Sparse form, latent numbers rising, entries too small to matter left out. */
export function sparse(latents: Int32Array, values: ArrayLike<number>): Sensitivities {
  let most = 0
  for (let i = 0; i < latents.length; i += 1) most = Math.max(most, Math.abs(values[i]))
  const kept: { latent: number; value: number }[] = []
  for (let i = 0; i < latents.length; i += 1)
    if (Math.abs(values[i]) > SMALL * most) kept.push({ latent: latents[i], value: values[i] })
  kept.sort((p, q) => p.latent - q.latent)
  return { index: kept.map((one) => one.latent), value: kept.map((one) => one.value) }
}

export const norm = ({ value }: Sensitivities): number => {
  let sum = 0
  for (let i = 0; i < value.length; i += 1) sum += value[i] * value[i]
  return Math.sqrt(sum)
}
