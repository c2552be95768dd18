import type { Kind, Mode } from '../kind.js'
import { dripSeverity, seatSeverity } from './oil.js'

/** What a cylinder can have, whatever it moves. @param most pressure [Pa] that friction takes either way when it all but stands */
export const cylinderModes = (most: number): readonly Mode[] => [
  { id: 'leaks_past_piston', title: 'leaks past its piston', share: 0.34, severity: seatSeverity(), repair: 'seals' },
  { id: 'leaks_outside', title: 'leaks at its gland or port', share: 0.34, severity: dripSeverity(), repair: 'seals' },
  {
    id: 'binds',
    title: 'binds',
    share: 0.22,
    severity: { dimension: 'pressureDifference', scale: 'linear', nodes: [15e5, 40e5, 80e5, most] },
    repair: 'free',
  },
  { id: 'air_in_oil', title: 'air in the oil', share: 0.06, repair: 'bleed' },
  { id: 'mechanical_end', title: 'pin or clevis broken', share: 0.04, repair: 'pin' },
]

export const CYLINDER_REPAIRS: Kind['repairs'] = {
  seals: { title: 'reseal or replace the cylinder', minutes: 120, price: 60 },
  free: { title: 'free and grease pins and rod, or replace the cylinder', minutes: 60, price: 20 },
  bleed: { title: 'bleed the cylinder', minutes: 20, price: 3 },
  pin: { title: 'renew the pin', minutes: 40, price: 25 },
}
