import { addMagnet, coilModes, positions, VALVE_CHOICES, VALVE_ISOLATED, VALVE_SETTINGS } from '../electrical/solenoid.js'
import type { Kind } from '../kind.js'
import { blockedSeverity } from '../severity.js'
import { coilLooks, HYDRAULIC_REPAIRS } from './hydraulic-valve.js'
import { addOutside, dripSeverity, leakOf, oilHazard, opening, openingFor, seatSeverity, wetLook } from './oil.js'
import { HOT_COIL, hotBody } from '../present.js'

/** Pressure difference at which the flow of a valve is stated [Pa]. */
const STATED = 5e5

/** Minutes and prices of the repairs are assumptions of the invented depot. */
export const hydraulicValve22: Kind = {
  name: 'hydraulic-valve-2-2',
  title: '2/2 poppet valve for oil',
  letter: 'Q',
  symbol: '2/2 poppet valve, solenoid operated, spring return',
  about: 'Seat valve that a coil lifts: shut, it holds a load nearly without drift.',
  incidence: 2,
  ports: [
    { name: 'coil_a', domain: 'electrical', about: 'coil, feed side' },
    { name: 'coil_b', domain: 'electrical', about: 'coil, ground side' },
    { name: 'supply', domain: 'liquid', about: 'side that is held' },
    { name: 'delivery', domain: 'liquid', about: 'side it lets go to' },
  ],
  ratings: {
    coil: { dimension: 'resistance', about: 'coil at 20 degC', default: '8 Ohm +- 8 %' },
    pull_in: { dimension: 'voltage', about: 'pulls in at 20 degC', default: '<= 9 V' },
    drop_out: { dimension: 'voltage', about: 'drops out at 20 degC', default: '>= 1.2 V' },
    flow: { dimension: 'volumeFlow', about: 'at a pressure difference of 5 bar, open', default: '12 l/min' },
  },
  choices: VALVE_CHOICES,
  settings: VALVE_SETTINGS,
  build(part, make) {
    const pulled = addMagnet(part, make)
    const clear = Math.max(0, 1 - (part.fault('filter_blocked') ?? 0))
    const open = opening(openingFor(part.value('flow'), STATED) * clear)
    const { dead, pulled: shifted } = positions(part)
    const [supply, delivery] = [make.port('supply'), make.port('delivery')]
    make.gate('seat', supply, delivery, shifted ? open : opening(0), dead ? open : opening(0), pulled)
    make.conductance('dirt', supply, delivery, leakOf(part.fault('leaks_internally')))
    make.conductance('leak', supply, addOutside(make), leakOf(part.fault('leaks_externally')))
  },
  modes: [
    { id: 'sticks_at_rest', title: 'sticks, does not shift', share: 0.2, repair: 'clean' },
    { id: 'sticks_operated', title: 'sticks, does not go back', share: 0.1, repair: 'clean' },
    { id: 'leaks_internally', title: 'dirt on its seat, leaks', share: 0.24, severity: seatSeverity(), repair: 'clean' },
    { id: 'leaks_externally', title: 'leaks outside', share: 0.09, severity: dripSeverity(), repair: 'replace' },
    { id: 'filter_blocked', title: 'screen blocked', share: 0.09, severity: blockedSeverity(), repair: 'clean' },
    ...coilModes(),
    {
      id: 'wrong_valve_or_ports_swapped',
      title: 'wrong valve: open for closed at rest',
      share: 0.02,
      byHand: true,
      repair: 'replace',
    },
  ],
  repairs: HYDRAULIC_REPAIRS,
  looks: [...coilLooks(), wetLook('oil at the body of the valve')],
  says: () => ({ pulled: { on: 'opens', off: 'shuts' } }),
  isolated: VALVE_ISOLATED,
  hazards: [
    oilHazard('supply', 'delivery'),
    { title: 'falls', caution: 'Opening it by hand or by a jumper lets the load down: clear or block it first.' },
    { title: 'hot', caution: HOT_COIL, present: hotBody },
  ],
  load: { feed: 'coil_a', ground: 'coil_b' },
  unplugs: true,
  swaps: true,
}
