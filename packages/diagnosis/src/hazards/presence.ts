import type { Hazard, LookQuantity } from '@halfsplit/kinds'
import type { Settled } from '@halfsplit/network'
import { type Fault, labelView, type Part, probeOfPart, type System } from '@halfsplit/system'
import { valueAt } from '../predict.js'

/** A hazard of one part of the machine. */
export interface HazardPoint {
  part: Part
  hazard: Hazard
}

/** Every hazard of every part that is known by a quantity, in the order of the description. */
export const hazardPoints = (system: System): HazardPoint[] =>
  [...system.parts.values()].flatMap((part) =>
    (part.kind.hazards ?? []).filter(({ present }) => present).map((hazard) => ({ part, hazard })),
  )

/** Positions of the points that are there in a machine at rest. */
export function presentAt(
  system: System,
  points: readonly HazardPoint[],
  settings: ReadonlyMap<string, string | number>,
  faults: readonly Fault[],
  settled: Settled,
): Set<number> {
  const found = new Set<number>()
  points.forEach(({ part, hazard }, i) => {
    const view = labelView(
      part,
      settings,
      faults.find((fault) => fault.part === part.name),
    )
    const there = hazard.present?.(view).some(({ quantity, over }) => amount(system, part, quantity, settled) > over)
    if (there) found.add(i)
  })
  return found
}

function amount(system: System, part: Part, quantity: LookQuantity | number, settled: Settled): number {
  if (typeof quantity === 'number') return quantity
  if ('signal' in quantity) return settled.state[`${part.name}:${quantity.signal}`] ? 1 : 0
  const value = valueAt(settled, probeOfPart(system, part, quantity.probe)) * quantity.scale
  return quantity.absolute ? Math.abs(value) : value
}
