import { GAP } from '../insulation.js'
import type { Kind, PartView } from '../kind.js'
import { beyondJoint } from '../severity.js'

/** Closed or not: a switch out of adjustment is never reached by its lever and stays as at rest. */
function closed(part: PartView): boolean {
  if (part.fault('stuck_closed')) return true
  if (part.fault('open') ?? part.fault('intermittent')) return false
  const operated = part.setting('position') === 'on' && !part.fault('out_of_adjustment')
  return (part.word('rest') === 'closed') !== operated
}

/** Minutes and prices of the repairs are assumptions of the invented depot. */
export const manualSwitch: Kind = {
  name: 'switch',
  title: 'switch',
  letter: 'S',
  symbol: 'switch, manually operated',
  about: 'Hand, lever, pedal or position switch with one contact and its adjustment.',
  incidence: 1.5,
  ports: [
    { name: 'a', domain: 'electrical', about: 'one terminal' },
    { name: 'b', domain: 'electrical', about: 'other terminal' },
  ],
  ratings: {
    contact: { dimension: 'resistance', about: 'closed contact', default: '10 mOhm', spread: 'factor' },
  },
  choices: { rest: { about: 'contact while nothing operates it', words: ['open', 'closed'], default: 'open' } },
  settings: { position: { about: 'operated or not', words: ['off', 'on'], default: 'off' } },
  build(part, make) {
    const contact = part.value('contact') + (part.fault('high_contact_resistance') ?? 0)
    make.conductance('contact', make.port('a'), make.port('b'), closed(part) ? 1 / contact : GAP)
  },
  modes: [
    {
      id: 'high_contact_resistance',
      title: 'worn or burnt contact',
      share: 0.36,
      severity: (part) => beyondJoint(part.value('contact')),
      repair: 'replace',
    },
    { id: 'open', title: 'will not make', share: 0.25, repair: 'replace' },
    { id: 'out_of_adjustment', title: 'out of adjustment, is not reached', share: 0.2, repair: 'adjust' },
    { id: 'stuck_closed', title: 'stuck closed', share: 0.11, repair: 'replace' },
    { id: 'intermittent', title: 'comes and goes', share: 0.08, intermittent: true, repair: 'replace' },
  ],
  repairs: {
    replace: { title: 'replace the switch', minutes: 20, price: 22, disturbs: true },
    adjust: { title: 'adjust the switch to its lever', minutes: 12, price: 0 },
  },
  isolated: [{ title: 'contact of the switch', red: 'a', black: 'b', minutes: 4 }],
  jumper: { across: [['a', 'b']] },
}
