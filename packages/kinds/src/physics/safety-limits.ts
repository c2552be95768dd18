import { convert } from '@halfsplit/core'

/**
 * Compressed air for cleaning: gauge pressure below this [Pa].
 * Source: 29 CFR 1910.242(b); 29 CFR 1917.154 for marine terminals.
 */
export const CLEANING_AIR = convert(30, '[psi]', 'Pa')

/** A cooling system is not opened while its coolant is hotter than this [K]. Common practice, no source. */
export const OPEN_COOLING_BELOW = 273.15 + 50

/** Rules a procedure names: stored energy and unexpected start, and the leads that may be used. */
export const NAMED_RULES = { lockout: '29 CFR 1910.147', testLeads: 'IEC 61010-031' } as const
