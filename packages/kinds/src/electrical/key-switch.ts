import { GAP } from '../insulation.js'
import type { Kind, PartView } from '../kind.js'
import { beyondJoint } from '../severity.js'

/** Whether the contact to `run` or to `start` is closed; the key passes `run` on its way to `start` and keeps it. */
function closed(part: PartView, contact: 'run' | 'start'): boolean {
  if (part.fault(`${contact}_stuck_closed`)) return true
  if (part.fault(`${contact}_open`) ?? part.fault('intermittent')) return false
  const position = part.setting('position')
  return position === 'start' || (contact === 'run' && position === 'run')
}

/** Minutes and prices of the repairs are assumptions of the invented depot. */
export const keySwitch: Kind = {
  name: 'key-switch',
  title: 'key switch',
  letter: 'S',
  symbol: 'switch, key operated, three positions',
  about: 'Off, run, and a sprung start position in which run stays on.',
  // Of "switch", without: out of adjustment, since no lever has to reach it.
  incidence: 1.5 * 0.8,
  ports: [
    { name: 'battery', domain: 'electrical', about: 'supply' },
    { name: 'run', domain: 'electrical', about: 'live in run and start' },
    { name: 'start', domain: 'electrical', about: 'live in start' },
  ],
  ratings: { contact: { dimension: 'resistance', about: 'closed contact', default: '10 mOhm', spread: 'factor' } },
  settings: { position: { about: 'of the key', words: ['off', 'run', 'start'], default: 'off' } },
  build(part, make) {
    for (const contact of ['run', 'start'] as const) {
      const burnt = part.fault(`${contact}_high_contact_resistance`) ?? 0
      const g = closed(part, contact) ? 1 / (part.value('contact') + burnt) : GAP
      make.conductance(contact, make.port('battery'), make.port(contact), g)
    }
  },
  modes: [
    {
      id: 'run_high_contact_resistance',
      title: 'run contact worn',
      share: 0.18,
      severity: (part) => beyondJoint(part.value('contact')),
      repair: 'replace',
    },
    {
      id: 'start_high_contact_resistance',
      title: 'start contact worn',
      share: 0.18,
      severity: (part) => beyondJoint(part.value('contact')),
      repair: 'replace',
    },
    { id: 'run_open', title: 'run contact will not make', share: 0.125, repair: 'replace' },
    { id: 'start_open', title: 'start contact will not make', share: 0.125, repair: 'replace' },
    { id: 'run_stuck_closed', title: 'run contact stuck closed', share: 0.055, repair: 'replace' },
    { id: 'start_stuck_closed', title: 'start contact stuck closed', share: 0.055, repair: 'replace' },
    { id: 'intermittent', title: 'comes and goes', share: 0.08, intermittent: true, repair: 'replace' },
  ],
  repairs: { replace: { title: 'replace the key switch', minutes: 25, price: 35, disturbs: true } },
  isolated: [
    { title: 'run contact', red: 'battery', black: 'run', minutes: 5 },
    { title: 'start contact', red: 'battery', black: 'start', minutes: 5 },
  ],
  jumper: {
    across: [
      ['battery', 'run'],
      ['battery', 'start'],
    ],
  },
}
