import { addMagnet, coilModes, VALVE_CHOICES, VALVE_SETTINGS } from '../electrical/solenoid.js'
import type { Builder, Kind, PartView } from '../kind.js'
import { coilLooks, HYDRAULIC_REPAIRS } from './hydraulic-valve.js'
import { addOutside, dripSeverity, leakOf, oilHazard, opening, openingFor, seatSeverity, wetLook } from './oil.js'
import { HOT_COIL, hotBody } from '../present.js'

/** Pressure difference at which the flow of a valve is stated [Pa]. */
const STATED = 5e5

/** What every spool lets through along its lands, at 30 bar [m3/s]: 2 ml/min. An assumption. */
const LANDS = 3e-8

type Side = 'left' | 'right'

/** Where the spool stands whatever the coils do, if it sticks. */
const stuckAt = (part: PartView): Side | 'centre' | undefined =>
  part.fault('sticks_centred') ? 'centre' : part.fault('sticks_left') ? 'left' : part.fault('sticks_right') ? 'right' : undefined

/** Ways by the side of the spool that opens them. */
const WAYS = [
  ['pressure', 'a', 'left'],
  ['b', 'tank', 'left'],
  ['pressure', 'b', 'right'],
  ['a', 'tank', 'right'],
] as const

/** Each way has a gate for either coil, since with its hoses changed over it is the other coil that opens it. */
function addWays(part: PartView, make: Builder, pulled: Readonly<Record<Side, string>>): void {
  const open = opening(openingFor(part.value('flow'), STATED))
  const [shut, stuck] = [opening(0), stuckAt(part)]
  const swapped = part.fault('wrong_valve_or_ports_swapped') !== undefined
  for (const [from, to, of] of WAYS) {
    const side = swapped ? (of === 'left' ? 'right' : 'left') : of
    for (const coil of ['left', 'right'] as const) {
      const [on, off] = [stuck ?? coil, stuck ?? 'centre'].map((stands) => (stands === side && coil === side ? open : shut))
      make.gate(`${from}_${to}_${coil}`, make.port(from), make.port(to), on, off, pulled[coil])
    }
  }
}

/** Minutes and prices of the repairs are assumptions of the invented depot. */
export const hydraulicValve43: Kind = {
  name: 'hydraulic-valve-4-3',
  title: '4/3 spool valve for oil',
  letter: 'Q',
  symbol: '4/3 spool valve, solenoid operated, spring centred, closed centre',
  about:
    'Its left coil joins pressure to a and b to tank, its right coil pressure to b and a to tank; in the centre all is shut.',
  // Of "solenoid valve", without: exhaust or filter blocked.
  incidence: 2 * 0.91,
  ports: [
    { name: 'left_coil_a', domain: 'electrical', about: 'left coil, feed side' },
    { name: 'left_coil_b', domain: 'electrical', about: 'left coil, ground side' },
    { name: 'right_coil_a', domain: 'electrical', about: 'right coil, feed side' },
    { name: 'right_coil_b', domain: 'electrical', about: 'right coil, ground side' },
    { name: 'pressure', domain: 'liquid', about: 'from the pump' },
    { name: 'tank', domain: 'liquid', about: 'return', accessible: false },
    { name: 'a', domain: 'liquid', about: 'first working port' },
    { name: 'b', domain: 'liquid', about: 'second working port' },
  ],
  ratings: {
    coil: { dimension: 'resistance', about: 'each coil at 20 degC', default: '8 Ohm +- 8 %' },
    pull_in: { dimension: 'voltage', about: 'pulls in at 20 degC', default: '<= 9 V' },
    drop_out: { dimension: 'voltage', about: 'drops out at 20 degC', default: '>= 1.2 V' },
    flow: { dimension: 'volumeFlow', about: 'each way at 5 bar, open', default: '12 l/min' },
  },
  choices: { suppression: VALVE_CHOICES.suppression },
  settings: VALVE_SETTINGS,
  build(part, make) {
    addWays(part, make, { left: addMagnet(part, make, 'left_'), right: addMagnet(part, make, 'right_') })
    const [pressure, tank, a, b] = ['pressure', 'tank', 'a', 'b'].map((name) => make.port(name))
    make.conductance('lands_a', a, tank, leakOf(LANDS))
    make.conductance('lands_b', b, tank, leakOf(LANDS))
    make.conductance('worn', pressure, tank, leakOf(part.fault('leaks_internally')))
    make.conductance('leak', pressure, addOutside(make), leakOf(part.fault('leaks_externally')))
  },
  modes: [
    { id: 'sticks_centred', title: 'sticks in the centre', share: 0.2, repair: 'clean' },
    { id: 'sticks_left', title: 'sticks where the left coil drives it', share: 0.05, repair: 'clean' },
    { id: 'sticks_right', title: 'sticks where the right coil drives it', share: 0.05, repair: 'clean' },
    { id: 'leaks_internally', title: 'worn, leaks to the tank', share: 0.24, severity: seatSeverity(), repair: 'replace' },
    { id: 'leaks_externally', title: 'leaks outside', share: 0.09, severity: dripSeverity(), repair: 'replace' },
    ...coilModes('left_', 'left coil', 0.5),
    ...coilModes('right_', 'right coil', 0.5),
    {
      id: 'wrong_valve_or_ports_swapped',
      title: 'hoses of its working ports changed over',
      share: 0.02,
      byHand: true,
      repair: 'swap',
    },
  ],
  repairs: { ...HYDRAULIC_REPAIRS, swap: { title: 'change the hoses of the working ports over', minutes: 15, price: 2 } },
  looks: [...coilLooks('left_', 'left coil'), ...coilLooks('right_', 'right coil'), wetLook('oil at the body of the valve')],
  says: () => ({ left_pulled: { on: 'goes left', off: 'centres' }, right_pulled: { on: 'goes right', off: 'centres' } }),
  isolated: [
    { title: 'resistance of the left coil', red: 'left_coil_a', black: 'left_coil_b', polarity: true, minutes: 5 },
    { title: 'resistance of the right coil', red: 'right_coil_a', black: 'right_coil_b', polarity: true, minutes: 5 },
  ],
  hazards: [
    oilHazard('pressure', 'a', 'b'),
    { title: 'moving parts', caution: 'What it works moves as soon as a coil or a hand shifts it: keep clear.' },
    { title: 'hot', caution: HOT_COIL, present: hotBody },
  ],
  unplugs: true,
  swaps: true,
}
