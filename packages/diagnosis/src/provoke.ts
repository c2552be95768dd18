import { ASSUMPTIONS } from '@halfsplit/core'
import type { FaultMode } from './faults.js'

/** What is done to a part so that a fault of it that comes and goes shows itself. */
export const PROVOCATIONS = ['tap', 'wiggle', 'warm', 'cool', 'wet'] as const
export type Provocation = (typeof PROVOCATIONS)[number]

/** A part, or all pins of a plug, under provocation while the next looks are taken. */
export interface Provoked {
  how: Provocation
  parts: readonly string[]
}

/** Kinds whose inside a tap on the housing does not reach. */
const TOO_SOFT: ReadonlySet<string> = new Set(['wire', 'splice'])

/**
 * Whether a provocation moves a mode that comes and goes: wiggling moves every loose contact and broken strand, a tap what sits in a
 * housing, warmth and cold what is cracked, soldered or spread. Wetting moves none: what it makes worse, leaks and bridges, does not come
 * and go here. Common practice, no source.
 */
export function provokes(how: Provocation, { mode, part }: Pick<FaultMode, 'mode' | 'part'>): boolean {
  if (!mode.intermittent) return false
  if (how === 'wiggle') return true
  if (how === 'tap') return !TOO_SOFT.has(part.kind.name)
  return how !== 'wet' && THERMAL.test(mode.id)
}

const THERMAL = /crack|erratic|intermittent_contact|^intermittent$/

/**
 * Chance that a fault that comes and goes is there at a look. Under a provocation of its part that moves it, at least the assumed chance
 * `provokedPresent`: so a part that stays good while it is shaken is cleared further than by standing still.
 * @param share chance without provocation, 0 to 1   @returns 0 to 1
 */
export function presentUnder(fault: FaultMode, provoked: readonly Provoked[], share: number): number {
  const { part } = fault
  const reached = provoked.some(
    ({ how, parts }) =>
      (parts.includes(part.name) || (part.connector !== undefined && parts.includes(part.connector.name))) &&
      provokes(how, fault),
  )
  return reached ? Math.max(share, ASSUMPTIONS.provokedPresent) : share
}
