import { airHazard } from '../air/orifice.js'
import type { Kind } from '../kind.js'
import * as valve from './solenoid.js'
import { HOT_COIL, hotBody } from '../present.js'

/** Minutes and prices of the repairs are assumptions of the invented depot. */
export const solenoidValve22: Kind = {
  name: 'solenoid-valve-2-2',
  title: '2/2 solenoid valve',
  letter: 'Q',
  symbol: '2/2 valve, solenoid operated, spring return',
  about: 'Opens or shuts one passage of air by a coil.',
  incidence: 2,
  ports: valve.VALVE_PORTS,
  ratings: valve.VALVE_RATINGS,
  choices: valve.VALVE_CHOICES,
  settings: valve.VALVE_SETTINGS,
  build(part, make) {
    valve.addPassages(part, make, valve.addMagnet(part, make))
  },
  modes: [...valve.VALVE_MODES, valve.filterMode],
  repairs: valve.VALVE_REPAIRS,
  looks: valve.VALVE_LOOKS,
  says: valve.valveWords,
  isolated: valve.VALVE_ISOLATED,
  hazards: [airHazard('supply', 'delivery'), { title: 'hot', caution: HOT_COIL, present: hotBody }],
  load: { feed: 'coil_a', ground: 'coil_b' },
  unplugs: true,
  swaps: true,
}
