import type { Kind } from '../kind.js'
import { leakSeverity } from '../severity.js'
import { airHazard, hissLook, orifice } from './orifice.js'
import { AIR_STATE, airVolume, exponentOf } from './volume.js'

/**
 * The table has no row for a tank: modes and incidence are an assumption after its row for a fitting.
 * Minutes and prices of the repairs are assumptions of the invented depot.
 */
export const airTank: Kind = {
  name: 'air-tank',
  title: 'air tank',
  letter: 'C',
  symbol: 'air receiver',
  about: 'Tank of a circuit: at rest it has the pressure that its line brings, and keeps it when the line shuts.',
  incidence: 0.5,
  ports: [{ name: 'air', domain: 'gas', about: 'all its connections' }],
  ratings: { volume: { dimension: 'volume', about: 'of the tank', default: '25 l' }, exponent: AIR_STATE.exponent },
  choices: { state: AIR_STATE.choice },
  build(part, make) {
    const air = make.port('air')
    make.add(airVolume('volume', air, part.value('volume'), undefined, exponentOf(part)))
    make.law('leak', air, make.air, orifice(part.fault('leaks_outside') ?? 0))
  },
  modes: [{ id: 'leaks_outside', title: 'leaks at its drain or a seam', share: 1, severity: leakSeverity(), repair: 'renew' }],
  repairs: { renew: { title: 'renew the drain valve or the tank', minutes: 45, price: 35 } },
  looks: [hissLook('leak', 'air at the tank and its drain', 'leak')],
  hazards: [airHazard('air')],
}
