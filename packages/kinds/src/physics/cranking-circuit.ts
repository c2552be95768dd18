import { notNegative } from './require.js'

/**
 * Greatest voltage drops of a 12 V cranking circuit while it cranks [V].
 * Source: US Army TM 5-3820-256-24-4, electrical section.
 */
export const CRANKING_DROPS = {
  shortCable: 0.1,
  longCable: 0.2,
  mechanicalSwitch: 0.1,
  solenoidSwitch: 0.2,
  magneticSwitch: 0.3,
  insulatedSide: 0.5,
} as const

/** Length from which a cable counts as long [m]: 3 ft. Source: as `CRANKING_DROPS`. */
export const LONG_CABLE_FROM = 0.9144

/**
 * Positive cable with its connections: resistance is high above this drop [V] while cranking 15 s.
 * Source: US Army TM 10-3930-671-24.
 */
export const POSITIVE_CABLE_DROP = 0.4

/** Loop resistance a cranking circuit may have [ohm]: 0.2 V in 100 A. Source: US Army TM 10-3930-671-24. */
const LOOP_RESISTANCE = 2e-3

/**
 * Greatest drop [V] of a cranking circuit by rule of thumb.
 * @param current [A], >= 0   @throws HalfsplitError VALUE_IMPOSSIBLE
 */
export const crankingLoopDrop = (current: number): number => LOOP_RESISTANCE * notNegative(current, 'the current')

/** Longest cranking and least pause before the next [s]. Source: US Army TM 10-3930-671-24. */
export const CRANKING_REST = { crank: 30, pause: 120 } as const

/** Supply range by code letter [V]. Source: ISO 16750-2, codes of supply voltage (from memory). */
export const SUPPLY_CODES: Readonly<Record<string, { least: number; most: number }>> = {
  A: { least: 6, most: 16 },
  B: { least: 8, most: 16 },
  C: { least: 9, most: 16 },
  D: { least: 10.5, most: 16 },
  E: { least: 10, most: 32 },
  F: { least: 16, most: 32 },
  G: { least: 22, most: 32 },
  H: { least: 18, most: 32 },
}

/**
 * Test voltages of equipment [V] and times [s]: with the alternator running, and a jump start.
 * Source: ISO 16750-2 (from memory).
 */
export const SUPPLY_TESTS = {
  running12: 14,
  running24: 28,
  jumpStart12: { voltage: 24, time: 60 },
} as const
