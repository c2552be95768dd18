import { airHazard, hissLook, orifice } from '../air/orifice.js'
import type { Kind } from '../kind.js'
import * as valve from './solenoid.js'
import { HOT_COIL, hotBody } from '../present.js'

/** Minutes and prices of the repairs are assumptions of the invented depot. */
export const solenoidValve32: Kind = {
  name: 'solenoid-valve-3-2',
  title: '3/2 solenoid valve',
  letter: 'Q',
  symbol: '3/2 valve, solenoid operated, spring return',
  about: 'Joins delivery to supply or to exhaust by a coil. What is not piped at the exhaust blows into the open air.',
  incidence: 2,
  ports: [...valve.VALVE_PORTS, { name: 'exhaust', domain: 'gas', about: 'open to the air' }],
  ratings: valve.VALVE_RATINGS,
  choices: valve.VALVE_CHOICES,
  settings: valve.VALVE_SETTINGS,
  build(part, make) {
    valve.addPassages(part, make, valve.addMagnet(part, make), make.port('exhaust'))
    make.law('exhaust', make.port('exhaust'), make.air, orifice(part.value('passage')))
  },
  modes: [
    ...valve.VALVE_MODES,
    // Half blocked it is only slow; at rest nothing but a shut exhaust shows.
    { id: 'exhaust_or_filter_blocked', title: 'exhaust blocked', share: 0.09, repair: 'clean' },
  ],
  repairs: valve.VALVE_REPAIRS,
  looks: [...valve.VALVE_LOOKS, hissLook('exhaust', 'air blowing from the exhaust', 'exhaust')],
  says: valve.valveWords,
  isolated: valve.VALVE_ISOLATED,
  hazards: [airHazard('supply', 'delivery'), { title: 'hot', caution: HOT_COIL, present: hotBody }],
  load: { feed: 'coil_a', ground: 'coil_b' },
  unplugs: true,
  swaps: true,
}
