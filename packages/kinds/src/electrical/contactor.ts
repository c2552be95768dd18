import { GAP } from '../insulation.js'
import type { Kind } from '../kind.js'
import { beyondJoint } from '../severity.js'
import { addPullingCoil, COIL_SHORTED } from './pulling-coil.js'
import { live } from '../present.js'

/** Minutes and prices of the repairs are assumptions of the invented depot. */
export const contactor: Kind = {
  name: 'contactor',
  title: 'contactor',
  letter: 'Q',
  symbol: 'contactor, make contact',
  about:
    'Coil that closes one heavy contact between two studs. The coil pulls in by its current, so a hot coil needs more volts.',
  // Of "relay", without: no pull-in for want of feed, ground or supply; socket; suppression part, which it has not.
  incidence: 1.5 * 0.58,
  ports: [
    { name: 'coil_a', domain: 'electrical', about: 'coil, feed side' },
    { name: 'coil_b', domain: 'electrical', about: 'coil, ground side' },
    { name: 'in', domain: 'electrical', about: 'stud, battery side' },
    { name: 'out', domain: 'electrical', about: 'stud, load side' },
  ],
  ratings: {
    coil: { dimension: 'resistance', about: 'coil at 20 degC', default: '14 Ohm +- 8 %' },
    pull_in: { dimension: 'voltage', about: 'pulls in at 20 degC', default: '<= 9 V' },
    drop_out: { dimension: 'voltage', about: 'drops out at 20 degC', default: '>= 1.5 V' },
    contact: { dimension: 'resistance', about: 'closed contact, stud to stud', default: '0.4 mOhm', spread: 'factor' },
  },
  settings: { temperature: { about: 'of the coil', dimension: 'temperature', default: '20 degC' } },
  build(part, make) {
    const pulled = addPullingCoil(part, make)
    const closed = 1 / (part.value('contact') + (part.fault('high_contact_resistance') ?? 0))
    const made = part.fault('intermittent') ? GAP : closed
    make.gate('contact', make.port('in'), make.port('out'), made, part.fault('contacts_welded') ? closed : GAP, pulled)
  },
  modes: [
    {
      id: 'high_contact_resistance',
      title: 'burnt contact',
      share: 0.28,
      severity: (part) => beyondJoint(part.value('contact')),
      repair: 'replace',
    },
    { id: 'coil_open', title: 'coil open', share: 0.08, repair: 'replace' },
    { id: 'contacts_welded', title: 'contact welded', share: 0.12, repair: 'replace' },
    { id: 'intermittent', title: 'comes and goes', share: 0.07, intermittent: true, repair: 'replace' },
    COIL_SHORTED,
  ],
  repairs: { replace: { title: 'replace the contactor', minutes: 25, price: 60, disturbs: true } },
  looks: [
    {
      name: 'click',
      about: 'contactor heard and felt as its switch is worked',
      words: ['at rest', 'pulled in'],
      levels: [[0.4, 0.6]],
      quantity: () => ({ signal: 'pulled' }),
      by: 'technician',
      minutes: 1,
      becomes: ['drops out', 'pulls in'],
    },
  ],
  says: () => ({ pulled: { on: 'pulls in', off: 'drops out' } }),
  isolated: [{ title: 'coil resistance', red: 'coil_a', black: 'coil_b', minutes: 5 }],
  jumper: { across: [['in', 'out']] },
  hazards: [
    {
      title: 'sparks',
      caution: 'Its studs carry hundreds of amperes and are live with everything off: negative clamp off first.',
      present: live('in'),
    },
  ],
}
