import type { Kind } from '../kind.js'
import { leakSeverity } from '../severity.js'
import { airHazard, hissLook, orifice } from './orifice.js'
import { AIR_STATE, airVolume, exponentOf, needleLook } from './volume.js'

/**
 * The table has no row for a tank: modes and incidence are an assumption after its row for a fitting.
 * Minutes and prices of the repairs are assumptions of the invented depot.
 */
export const supplyTank: Kind = {
  name: 'supply-tank',
  title: 'supply tank',
  letter: 'C',
  symbol: 'air receiver',
  about:
    'First tank behind the dryer: its pressure is what a state of the machine says, how it changes is what the machine makes of it.',
  incidence: 0.5,
  ports: [{ name: 'air', domain: 'gas', about: 'all its connections' }],
  ratings: {
    volume: { dimension: 'volume', about: 'of the tank', default: '15 l' },
    share: {
      dimension: 'fraction',
      about: 'its share of the whole volume that fills and empties with it, circuits included',
      default: '100 %',
    },
    exponent: AIR_STATE.exponent,
  },
  choices: { state: AIR_STATE.choice },
  settings: { pressure: { about: 'in the tank', dimension: 'absolutePressure', default: '0 bar' } },
  build(part, make) {
    const air = make.port('air')
    make.add(airVolume('volume', air, part.value('volume'), part.imposed('pressure'), exponentOf(part)))
    make.law('leak', air, make.air, orifice(part.fault('leaks_outside') ?? 0))
  },
  modes: [{ id: 'leaks_outside', title: 'leaks at its drain or a seam', share: 1, severity: leakSeverity(), repair: 'renew' }],
  repairs: { renew: { title: 'renew the drain valve or the tank', minutes: 45, price: 35 } },
  looks: [
    needleLook('gauge of the tank, watched for two minutes', (part) => part.value('share')),
    hissLook('leak', 'air at the tank and its drain', 'leak'),
  ],
  hazards: [airHazard('air')],
}
