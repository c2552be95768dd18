import { GAP } from '../insulation.js'
import type { Kind } from '../kind.js'
import { beyondJoint, jointSeverity, logSeverity } from '../severity.js'

/** The table counts whole connectors; the usual one at a switch or valve has two pins. An assumption. */
const PINS_OF_A_CONNECTOR = 2

/** Minutes and prices of the repairs are assumptions of the invented depot. */
export const pin: Kind = {
  name: 'pin',
  title: 'connector pin',
  letter: 'X',
  symbol: 'plug and socket contact',
  about: 'One pin of a connector with its socket. The table gives the incidence of a connector; a pin takes half of it.',
  // Without: wrong or crossed position, which takes two pins to describe.
  incidence: (2 / PINS_OF_A_CONNECTOR) * 0.98,
  ports: [
    { name: 'a', domain: 'electrical', about: 'wire side of the pin' },
    { name: 'b', domain: 'electrical', about: 'wire side of the socket' },
  ],
  ratings: {
    contact: { dimension: 'resistance', about: 'pin in its socket with both crimps', default: '5 mOhm', spread: 'factor' },
  },
  build(part, make) {
    const added = part.fault('high_resistance_contact') ?? part.fault('melted_overheated') ?? 0
    const off = part.fault('open_contact') ?? part.fault('intermittent_contact')
    make.conductance('contact', make.port('a'), make.port('b'), off ? GAP : 1 / (part.value('contact') + added))
    make.signal('melted', (id) => ({ type: 'imposed', id, value: part.fault('melted_overheated') !== undefined }))
  },
  modes: [
    {
      id: 'high_resistance_contact',
      title: 'high resistance',
      share: 0.4,
      severity: (part) => beyondJoint(part.value('contact')),
      repair: 'renew',
    },
    { id: 'intermittent_contact', title: 'comes and goes', share: 0.28, intermittent: true, repair: 'renew' },
    { id: 'open_contact', title: 'open', share: 0.18, repair: 'renew' },
    {
      id: 'water_bridge_between_pins',
      title: 'water bridge to the next pin',
      share: 0.08,
      bridges: 'pin',
      severity: logSeverity('resistance', 50, 50e3),
      repair: 'dry',
    },
    { id: 'melted_overheated', title: 'melted', share: 0.04, severity: jointSeverity(0.05, 1e3), repair: 'renew' },
  ],
  repairs: {
    renew: { title: 'renew the pin and its socket', minutes: 20, price: 6 },
    dry: { title: 'dry, clean and seal the connector', minutes: 15, price: 5, disturbs: true },
  },
  looks: [
    {
      name: 'plug',
      about: 'plug where the pin sits, looked at and smelled',
      words: ['sound', 'melted'],
      levels: [[0.4, 0.6]],
      quantity: () => ({ signal: 'melted' }),
      by: 'technician',
      minutes: 2,
    },
  ],
  unplugs: true,
}
