import { GAP } from '../insulation.js'
import type { Builder, PartView } from '../kind.js'

/** Trip and reset of a switch [SI], moved together by a drift; `hysteresis` is the present one over the right one. */
export function switchLevels(part: PartView, hysteresis = 1): { rise: number; fall: number } {
  const rise = part.value('trip') + (part.fault('trip_point_drifted') ?? 0)
  return { rise, fall: rise - hysteresis * (part.value('trip') - part.value('reset')) }
}

/** The contact from `a` to `b` of a switch that acts by itself, with the choice `action`. */
export function switchContact(part: PartView, make: Builder, tripped: string): void {
  const closed = 1 / (part.value('contact') + (part.fault('high_contact_resistance') ?? 0))
  const stuck = part.fault('stays_closed') ? closed : part.fault('stays_open') ? GAP : undefined
  const rising = part.word('action') === 'closes_rising'
  make.gate(
    'contact',
    make.port('a'),
    make.port('b'),
    stuck ?? (rising ? closed : GAP),
    stuck ?? (rising ? GAP : closed),
    tripped,
  )
}
