import { ASSUMPTIONS } from '@halfsplit/core'
import type { Part, System } from '@halfsplit/system'

/** What a repair takes: minutes with the way there, price of part and consumables, and both in the shop's money. */
export interface RepairCost {
  minutes: number
  price: number
  money: number
}

/** Minutes of the workshop in its money. */
export const money = (minutes: number): number => minutes * ASSUMPTIONS.moneyPerMinute

/** The part and the id of a repair as it is named: `replace K7`. */
export function repairTarget(system: System, repair: string): { id: string; part: Part } {
  const cut = repair.indexOf(' ')
  const part = system.parts.get(repair.slice(cut + 1))
  const id = repair.slice(0, cut)
  if (!part?.repairs[id]) throw new RangeError(`'${repair}' is no repair of ${system.title}`)
  return { id, part }
}

/**
 * What a repair costs: its minutes, the way to the part, and its price.
 * @param places where the technician stands already   @throws RangeError for a repair the description does not have
 */
export function repairCost(system: System, repair: string, places: readonly string[] = []): RepairCost {
  const { id, part } = repairTarget(system, repair)
  const { minutes: own, price } = part.repairs[id]
  const way = part.place && !places.includes(part.place) ? (system.places.get(part.place)?.minutes ?? 0) : 0
  const minutes = own + way
  return { minutes, price, money: money(minutes) + price }
}
