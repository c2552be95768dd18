import { STANDARD_ATMOSPHERE } from '@halfsplit/core'
import { airHazard, orifice } from '../air/orifice.js'
import type { Kind } from '../kind.js'
import { leakSeverity, shiftSeverity } from '../severity.js'
import { switchContact, switchLevels, switchWords } from './switch-contact.js'

/** Half the usual tolerance of a trip point [Pa]: drift is what lies beyond it. Common practice, no source. */
const TOLERANCE = 0.3e5

/** Sonic conductance of the bore to the diaphragm [m3/(s.Pa)]: about 1 mm. */
const BORE = 1.3e-9

/** Hysteresis that is left when the spring is worn, over the right one; an assumption. */
const WORN = 0.05

/** Minutes and prices of the repairs are assumptions of the invented depot. */
export const pressureSwitch: Kind = {
  name: 'pressure-switch',
  title: 'pressure switch',
  letter: 'B',
  symbol: 'pressure switch',
  about: 'Switch in an air line: trips rising, resets falling, against the pressure of the open air.',
  incidence: 2,
  ports: [
    { name: 'a', domain: 'electrical', about: 'one terminal' },
    { name: 'b', domain: 'electrical', about: 'other terminal' },
    { name: 'pressure', domain: 'gas', about: 'line it sits in' },
  ],
  ratings: {
    trip: { dimension: 'absolutePressure', about: 'operates while pressure rises', default: '5 bar +- 0.3 bar' },
    reset: { dimension: 'absolutePressure', about: 'goes back while pressure falls', default: '4.5 bar +- 0.3 bar' },
    contact: { dimension: 'resistance', about: 'closed contact', default: '20 mOhm', spread: 'factor' },
  },
  choices: {
    action: { about: 'what it does at its trip point', words: ['closes_rising', 'opens_rising'], default: 'closes_rising' },
  },
  build(part, make) {
    const chamber = make.inner('chamber', 'gas')
    make.law('bore', make.port('pressure'), chamber, orifice(part.fault('port_blocked') ? 0 : BORE))
    make.law('leak', make.port('pressure'), make.air, orifice(part.fault('leaks') ?? 0))
    const { rise, fall } = switchLevels(part, part.fault('chatter') ? WORN : 1)
    const gauge = (pressure: number) => pressure - STANDARD_ATMOSPHERE
    switchContact(part, make, make.threshold('tripped', chamber, make.air, 1, gauge(rise), gauge(fall)))
  },
  modes: [
    {
      id: 'trip_point_drifted',
      title: 'trip point drifted',
      share: 0.33,
      severity: shiftSeverity('pressureDifference', TOLERANCE),
      repair: 'replace',
    },
    { id: 'stays_open', title: 'stays open', share: 0.24, repair: 'replace' },
    { id: 'stays_closed', title: 'stays closed', share: 0.17, repair: 'replace' },
    { id: 'leaks', title: 'leaks', share: 0.14, severity: leakSeverity(), repair: 'replace' },
    { id: 'port_blocked', title: 'port blocked', share: 0.07, repair: 'clean' },
    { id: 'chatter', title: 'no hysteresis left', share: 0.05, repair: 'replace' },
  ],
  repairs: {
    replace: { title: 'replace the pressure switch', minutes: 20, price: 30, disturbs: true },
    clean: { title: 'clean the port of the pressure switch', minutes: 20, price: 1, disturbs: true },
  },
  says: (part) => switchWords(part, 'pressureDifference'),
  isolated: [{ title: 'contact of the switch', red: 'a', black: 'b', minutes: 4 }],
  jumper: { across: [['a', 'b']] },
  hazards: [airHazard('pressure')],
  unplugs: true,
  swaps: true,
}
