import { STANDARD_ATMOSPHERE } from '@halfsplit/core'
import { REFERENCE, REFERENCE_DENSITY } from '@halfsplit/network'
import type { Kind } from '../kind.js'
import { leakSeverity, shiftSeverity } from '../severity.js'
import { airHazard, hissLook, left, orifice } from './orifice.js'

/** Half the usual tolerance of a governor [Pa]. Common practice, no source. */
const TOLERANCE = 0.2e5

/** Minutes and prices of the repairs are assumptions of the invented depot. */
export const airSupply: Kind = {
  name: 'air-supply',
  title: 'air supply',
  letter: 'G',
  symbol: 'compressor with tank',
  about: 'Compressor, governor, dryer and tank as one: holds its pressure as long as no more flows than it can deliver.',
  // Of "air governor and dryer", without: desiccant spent, check valve leaks, which show over hours and at a purge.
  incidence: 2 * 0.68,
  ports: [{ name: 'out', domain: 'gas', about: 'outlet of the tank' }],
  ratings: {
    delivery: {
      dimension: 'sonicConductance',
      about: 'what compressor and tank outlet let through: 0.3 l/(s.bar) is 160 l/min of free air',
      default: '0.3 l/(s.bar) +- 20 %',
    },
  },
  settings: { pressure: { about: 'in the tank, as the gauge shows', dimension: 'absolutePressure', default: '8 bar' } },
  build(part, make) {
    const tank = make.inner('tank', 'gas')
    // An empty tank is empty, whatever its governor would do.
    const imposed = part.imposed('pressure')
    const held = Math.max(imposed + (part.fault('governor_set_or_response') ?? 0), Math.min(imposed, STANDARD_ATMOSPHERE))
    make.add({ type: 'across', id: 'tank', a: tank, b: REFERENCE, value: held, resistance: 0 })
    const delivery = left(part.value('delivery'), part.fault('unloader_leak_or_stuck'))
    make.law('delivery', tank, make.port('out'), orifice(delivery))
    make.law('purge', make.port('out'), make.air, orifice(part.fault('purge_valve_leaks_or_sticks') ?? 0))
  },
  modes: [
    {
      id: 'purge_valve_leaks_or_sticks',
      title: 'purge valve blows',
      share: 0.3,
      severity: leakSeverity(4e-10, 2e-8),
      repair: 'dryer',
    },
    {
      id: 'unloader_leak_or_stuck',
      title: 'unloader leaks, little is delivered',
      share: 0.2,
      // Share of the delivery that is lost.
      severity: { dimension: 'fraction', scale: 'linear', nodes: [0.5, 0.8, 0.95] },
      repair: 'compressor',
    },
    {
      id: 'governor_set_or_response',
      title: 'governor off its setting',
      share: 0.18,
      severity: shiftSeverity('pressureDifference', TOLERANCE, [1.5, 4, 8, 15]),
      repair: 'governor',
    },
  ],
  repairs: {
    dryer: { title: 'overhaul the purge valve of the dryer', minutes: 60, price: 60 },
    compressor: { title: 'overhaul the unloader', minutes: 90, price: 70 },
    governor: { title: 'set or replace the governor', minutes: 40, price: 55 },
  },
  looks: [
    hissLook('purge', 'air blowing from the dryer', 'purge'),
    {
      name: 'compressor',
      about: 'compressor heard for ten minutes with the engine running',
      words: ['rests now and then', 'never rests'],
      // Share of what it can deliver: above two thirds it is hardly heard to unload. An assumption.
      levels: [[0.4, 0.7]],
      quantity: (part) => ({
        probe: { through: 'delivery' },
        scale: 1 / (part.value('delivery') * REFERENCE_DENSITY * part.imposed('pressure')),
        absolute: true,
      }),
      by: 'operator',
      minutes: 10,
    },
  ],
  hazards: [airHazard('out')],
}
