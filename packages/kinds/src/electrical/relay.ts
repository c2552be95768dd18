import { GAP } from '../insulation.js'
import type { Kind } from '../kind.js'
import { jointSeverity } from '../severity.js'
import { addPullingCoil, COIL_SHORTED } from './pulling-coil.js'

/** Minutes and prices of the repairs are assumptions of the invented depot. */
export const relay: Kind = {
  name: 'relay',
  title: 'change-over relay',
  letter: 'K',
  symbol: 'relay coil with change-over contact',
  about: 'Plug-in relay with one change-over contact. The coil pulls in by its current, so a hot coil needs more volts.',
  // Without: no pull-in for want of feed, ground or supply; suppression part, which this relay has not.
  incidence: 1.5 * 0.8,
  ports: [
    { name: 'coil_a', domain: 'electrical', about: 'coil, feed side' },
    { name: 'coil_b', domain: 'electrical', about: 'coil, other side' },
    { name: 'common', domain: 'electrical', about: 'common of the contact' },
    { name: 'rest', domain: 'electrical', about: 'closed while the coil is dead' },
    { name: 'work', domain: 'electrical', about: 'closed while the coil is pulled in' },
  ],
  ratings: {
    coil: { dimension: 'resistance', about: 'coil at 20 degC', default: '90 Ohm +- 10 %' },
    pull_in: { dimension: 'voltage', about: 'pulls in at 20 degC', default: '<= 8 V' },
    drop_out: { dimension: 'voltage', about: 'drops out at 20 degC', default: '>= 1.2 V' },
    contact: { dimension: 'resistance', about: 'closed contact with its socket', default: '10 mOhm', spread: 'factor' },
  },
  settings: { temperature: { about: 'of the coil', dimension: 'temperature', default: '20 degC' } },
  build(part, make) {
    const burnt = part.fault('high_contact_resistance') ?? 0
    const socket = part.fault('socket_contact') ?? 0
    const blade = make.inner('blade', 'electrical')
    const pulled = addPullingCoil(part, make)
    make.conductance('socket', make.port('common'), blade, 1 / (part.value('contact') / 2 + socket))
    const welded = part.fault('contacts_welded')
    const closed = 1 / (part.value('contact') / 2 + burnt)
    const gap = part.fault('intermittent') ? GAP : closed
    make.gate('work', blade, make.port('work'), gap, welded ? closed : GAP, pulled)
    make.gate('rest', blade, make.port('rest'), GAP, welded ? GAP : gap, pulled)
  },
  modes: [
    { id: 'high_contact_resistance', title: 'burnt contacts', share: 0.28, severity: jointSeverity(0.1), repair: 'replace' },
    { id: 'coil_open', title: 'coil open', share: 0.08, repair: 'replace' },
    { id: 'socket_contact', title: 'weak socket contact', share: 0.22, severity: jointSeverity(0.1), repair: 'socket' },
    { id: 'contacts_welded', title: 'contacts welded', share: 0.12, repair: 'replace' },
    { id: 'intermittent', title: 'comes and goes', share: 0.07, intermittent: true, repair: 'replace' },
    COIL_SHORTED,
  ],
  repairs: {
    replace: { title: 'replace the relay', minutes: 3, price: 25, disturbs: true },
    socket: { title: 'renew the socket terminals', minutes: 15, price: 6 },
  },
  looks: [
    {
      name: 'click',
      about: 'relay pulled in, felt with a finger',
      words: ['at rest', 'pulled in'],
      levels: [[0.4, 0.6]],
      quantity: () => ({ signal: 'pulled' }),
      by: 'technician',
      minutes: 1,
    },
  ],
  says: () => ({ pulled: { on: 'pulls in', off: 'drops out' } }),
  isolated: [{ title: 'coil resistance', red: 'coil_a', black: 'coil_b', minutes: 4 }],
  jumper: {
    across: [
      ['common', 'work'],
      ['common', 'rest'],
    ],
  },
  unplugs: true,
  swaps: true,
}
