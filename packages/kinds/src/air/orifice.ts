import type { Law } from '@halfsplit/network'
import type { Hazard, Look } from '../kind.js'
import { pressed } from '../present.js'

/** Critical pressure ratio of valves and fittings where nothing better is known [1]. Common practice, no source. */
export const CRITICAL_RATIO = 0.3

/** An orifice by ISO 6358. @param c sonic conductance [m3/(s.Pa)], 0 is shut  @param b critical pressure ratio [1] */
export const orifice = (c: number, b: number = CRITICAL_RATIO): Law => ({ law: 'orifice', c, b })

/** Sonic conductance that is left of a passage when a share of it is blocked; more than all of it is shut. */
export const left = (c: number, blocked: number | undefined): number => c * Math.max(0, 1 - (blocked ?? 0))

/**
 * Air heard to escape, by the flow through an element. An ear near the leak misses 1 l/min and hears 5 l/min of free air: in the
 * quantity's unit 2e-5 and 1e-4 kg/s. The levels are an assumption.
 */
export function hissLook(name: string, about: string, through: string): Look {
  return {
    name,
    about,
    words: ['quiet', 'hisses'],
    levels: [[2e-5, 1e-4]],
    quantity: () => ({ probe: { through }, scale: 1, absolute: true }),
    by: 'technician',
    minutes: 1,
  }
}

/** Pressure from which a loosened hose whips [Pa]: half a bar. An assumption. */
const WHIPS = 0.5e5

/** The caution of everything that holds air, while there is pressure at any of its ports. */
export const airHazard = (...ports: readonly string[]): Hazard => ({
  title: 'pressure',
  caution: 'Let the air out before a line is opened.',
  present: pressed(WHIPS, ...ports),
})
