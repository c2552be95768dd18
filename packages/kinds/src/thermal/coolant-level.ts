import type { Look, Mode, Repair } from '../kind.js'

/** A loss of coolant, whatever the coolant is part of. */
export const LOW_LEVEL: Mode = {
  id: 'low_level',
  title: 'level low, what should be in it is half in air',
  share: 1,
  // How far what sits there falls back to the temperature of the surroundings.
  severity: { dimension: 'fraction', scale: 'linear', nodes: [0.2, 0.4, 0.7] },
  repair: 'fill',
}

export const FILL: Repair = { title: 'find the loss, fill up and bleed', minutes: 20, price: 15 }

/** Sees the signal `low`. */
export const LEVEL_LOOK: Look = {
  name: 'level',
  about: 'level at the filler or sight glass, cold',
  words: ['full', 'low'],
  levels: [[0.4, 0.6]],
  quantity: () => ({ signal: 'low' }),
  by: 'technician',
  minutes: 3,
}
