import { REFERENCE } from '@halfsplit/network'
import type { Kind } from '../kind.js'
import { beyondJoint, shiftSeverity } from '../severity.js'
import { addSurroundings } from '../thermal/surroundings.js'
import { switchContact, switchLevels, switchWords } from './switch-contact.js'
import { scalding } from '../present.js'

/** Half the usual tolerance of a trip point [K]: drift is what lies beyond it. Common practice, no source. */
const TOLERANCE = 2.5

/** Coupling of its disc with what its bulb sits in [W/K], and how long the disc takes to follow that [s]. Assumptions. */
const COUPLED = 1
const LAG = 8

/** Minutes and prices of the repairs are assumptions of the invented depot. */
export const temperatureSwitch: Kind = {
  name: 'temperature-switch',
  title: 'temperature switch',
  letter: 'B',
  symbol: 'temperature switch',
  about: 'Snap-disc or bulb switch in coolant or oil: trips rising, resets falling.',
  incidence: 2,
  ports: [
    { name: 'a', domain: 'electrical', about: 'one terminal' },
    { name: 'b', domain: 'electrical', about: 'other terminal' },
    { name: 'sense', domain: 'thermal', about: 'what the bulb sits in' },
  ],
  ratings: {
    trip: { dimension: 'temperature', about: 'operates while it gets warmer', default: '90 degC +- 2.5 K' },
    reset: { dimension: 'temperature', about: 'goes back while it cools down', default: '83 degC +- 2.5 K' },
    contact: { dimension: 'resistance', about: 'closed contact', default: '20 mOhm', spread: 'factor' },
  },
  choices: {
    action: { about: 'what it does at its trip point', words: ['closes_rising', 'opens_rising'], default: 'closes_rising' },
  },
  build(part, make) {
    const disc = make.inner('disc', 'thermal')
    make.add({ type: 'store', id: 'lag', a: disc, b: REFERENCE, charge: { charge: 'linear', capacity: LAG * COUPLED } })
    const bare = part.fault('not_in_the_liquid') ?? 0
    make.conductance('wetted', make.port('sense'), disc, COUPLED * (1 - bare))
    make.conductance('bare', disc, addSurroundings(make), COUPLED * bare)
    const { rise, fall } = switchLevels(part, part.fault('wrong_hysteresis'))
    switchContact(part, make, make.threshold('tripped', disc, REFERENCE, 1, rise, fall))
  },
  modes: [
    {
      id: 'trip_point_drifted',
      title: 'trip point drifted',
      share: 0.38,
      severity: shiftSeverity('temperatureDifference', TOLERANCE),
      repair: 'replace',
    },
    { id: 'stays_open', title: 'stays open', share: 0.24, repair: 'replace' },
    { id: 'stays_closed', title: 'stays closed', share: 0.16, repair: 'replace' },
    {
      id: 'high_contact_resistance',
      title: 'oxidised contact',
      share: 0.11,
      severity: (part) => beyondJoint(part.value('contact')),
      repair: 'replace',
    },
    {
      id: 'wrong_hysteresis',
      title: 'resets too soon or too late',
      share: 0.05,
      // Its hysteresis over the right one.
      severity: { dimension: 'fraction', scale: 'linear', nodes: [0.1, 0.3, 3, 6] },
      repair: 'replace',
    },
    {
      id: 'not_in_the_liquid',
      title: 'not in the liquid',
      share: 0.06,
      // How far its disc falls back to the temperature of the surroundings.
      severity: { dimension: 'fraction', scale: 'linear', nodes: [0.1, 0.25, 0.5] },
      repair: 'refit',
    },
  ],
  repairs: {
    replace: { title: 'replace the temperature switch', minutes: 30, price: 35, disturbs: true },
    refit: { title: 'bleed the air, clean and refit the temperature switch', minutes: 30, price: 5, disturbs: true },
  },
  says: (part) => switchWords(part, 'temperature'),
  isolated: [{ title: 'contact of the switch', red: 'a', black: 'b', minutes: 4 }],
  jumper: { across: [['a', 'b']] },
  hazards: [
    {
      title: 'hot',
      harm: 'lasting',
      caution: 'Coolant and oil scald; take out no switch from a hot engine.',
      present: scalding('sense'),
    },
  ],
  unplugs: true,
  swaps: true,
}
