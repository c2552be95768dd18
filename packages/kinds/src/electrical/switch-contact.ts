import { GAP } from '../insulation.js'
import type { Builder, PartView, SignalWords } from '../kind.js'

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

/** Words for the signal `tripped` of a switch that acts by a quantity. A contact that is stuck stays what it is while the switch moves. */
export function switchWords(part: PartView, by: 'temperature' | 'pressureDifference'): { tripped: SignalWords } {
  const stuck = part.fault('stays_closed') ? 'closed' : part.fault('stays_open') ? 'open' : undefined
  const [on, off] = part.word('action') === 'closes_rising' ? ['closed', 'open'] : ['open', 'closed']
  const word = (is: string) => (is === 'closed' ? 'closes' : 'opens')
  if (stuck) {
    const acts = { by, on: stuck, off: stuck }
    return { tripped: { on: `trips and its contact stays ${stuck}`, off: `resets and its contact stays ${stuck}`, acts } }
  }
  return { tripped: { on: word(on), off: word(off), acts: { by, on, off } } }
}
