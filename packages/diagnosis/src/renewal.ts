import type { Branch, Sensitivities } from '@halfsplit/inference'
import type { System } from '@halfsplit/system'
import type { Done } from './evidence.js'
import type { LatentSpace } from './latent-space.js'

/** Latents of the parts that were replaced, with how often: they have been drawn anew. */
export function renewals(system: System, done: readonly Done[]): Map<number, number> {
  const times = new Map<number, number>()
  for (const action of done) {
    if (action.kind !== 'repaired') continue
    const parts = new Set(action.repairs.map((repair) => repair.slice(repair.indexOf(' ') + 1)))
    for (const latent of system.latents) {
      if (parts.has(latent.part)) times.set(latent.index, (times.get(latent.index) ?? 0) + 1)
    }
  }
  return times
}

/** Sensitivities as they are after the replacements of a segment: one margin met in two setups stays one. */
export type Moved = Map<Sensitivities, Sensitivities>

/** Branches in which the replaced parts' latents are those drawn anew. */
export function renewed(
  branches: readonly Branch[],
  times: ReadonlyMap<number, number>,
  space: LatentSpace,
  known: Moved,
): readonly Branch[] {
  if (times.size === 0) return branches
  const moved = (old: Sensitivities): Sensitivities => {
    let now = known.get(old)
    if (!now) {
      now = move(old)
      known.set(old, now)
    }
    return now
  }
  const move = (old: Sensitivities): Sensitivities => {
    const pairs = Array.from(old.index, (latent, i) => ({
      latent: space.redrawn(latent, times.get(latent) ?? 0),
      value: old.value[i],
    }))
    pairs.sort((p, q) => p.latent - q.latent)
    return { index: pairs.map((pair) => pair.latent), value: pairs.map((pair) => pair.value) }
  }
  return branches.map(({ conditions, predictions }) => ({
    conditions: conditions.map((condition) => ({ ...condition, sensitivities: moved(condition.sensitivities) })),
    predictions: predictions.map((one) => (one.kind === 'number' ? { ...one, sensitivities: moved(one.sensitivities) } : one)),
  }))
}
