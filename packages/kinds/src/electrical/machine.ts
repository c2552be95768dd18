import { REFERENCE } from '@halfsplit/network'
import type { Builder, Look, Mode, PartView } from '../kind.js'
import { GAP } from '../insulation.js'
import { logSeverity } from '../severity.js'

/** What a direct-current machine does when all is well: volts and amperes at its terminals, its speed [rad/s], winding [ohm]. */
export interface Duty {
  voltage: number
  current: number
  speed: number
  winding: number
}

/** Share of the load's torque that does not grow with speed, and the speed, as a share, at which it is fully there. Assumptions. */
const DRY = 0.6
const BREAKAWAY = 0.01

/**
 * Adds a permanent-magnet machine with what it turns, between two electrical nodes:  u = k w + R i,  k i = drag(w).
 * k follows from the duty; `stiffness` multiplies the drag (1 at the duty), `copper` the winding.   @returns the node of its shaft
 */
export function addMachine(part: PartView, make: Builder, a: string, b: string, duty: Duty, stiffness = 1, copper = 1): string {
  const brush = make.inner('brush', 'electrical')
  const shaft = make.inner('shaft', 'rotation')
  const shorted = part.fault('winding_shorted') ?? 0
  const constant = (duty.voltage - duty.current * duty.winding) / duty.speed
  const torque = constant * duty.current
  const open = part.fault('winding_open')
  const worn = part.fault('brushes_worn_or_stuck') ?? 0
  // The brushes are half of the winding's figure; a worn one adds to them.
  make.conductance('brushes', a, brush, open ? GAP : 1 / (duty.winding / 2 + worn))
  make.add({
    type: 'motor',
    id: 'winding',
    a: brush,
    b,
    shaft,
    constant: constant * (1 - shorted),
    resistance: (duty.winding / 2) * copper * (1 - shorted),
  })
  const stiff = stiffness * (1 + (part.fault('bearings_or_load_stiff') ?? 0))
  const drag = torque * stiff
  make.law('drag', shaft, REFERENCE, {
    law: 'drag',
    dry: DRY * drag,
    viscous: ((1 - DRY) * drag) / duty.speed,
    smooth: BREAKAWAY * duty.speed,
  })
  return shaft
}

/** Modes of a machine by the table; the shares are for a whole of which it makes up `part`. */
export const machineModes = (part: number, winding: (view: PartView) => number): readonly Mode[] => [
  {
    id: 'brushes_worn_or_stuck',
    title: 'brushes worn or stuck',
    share: 0.32 * part,
    severity: (view) => logSeverity('resistance', 2 * winding(view), 1e4, 11),
    repair: 'overhaul',
  },
  {
    id: 'bearings_or_load_stiff',
    title: 'bearings or load stiff',
    share: 0.25 * part,
    // Added drag over the usual one.
    severity: logSeverity('fraction', 0.6, 8, 7),
    repair: 'overhaul',
  },
  { id: 'winding_open', title: 'winding open', share: 0.1 * part, repair: 'replace' },
  {
    id: 'winding_shorted',
    title: 'winding partly shorted',
    share: 0.09 * part,
    severity: { dimension: 'fraction', scale: 'linear', nodes: [0.2, 0.35, 0.5] },
    repair: 'replace',
  },
]

/**
 * How fast it turns, as a share of its usual speed: below a tenth it is called standing, above three quarters usual. An assumption.
 * Nothing turns with it when its drive is broken.
 */
export function turningLook(name: string, about: string, words: readonly [string, string, string]): Look {
  return {
    name,
    about,
    words,
    levels: [
      [0.05, 0.12],
      [0.6, 0.8],
    ],
    quantity: (part) => ({
      probe: { across: { shaft: 1 } },
      scale: part.fault('drive_part') ? 0 : 1 / part.value('speed'),
      absolute: true,
    }),
    by: 'operator',
    minutes: 0.5,
  }
}
