import { REFERENCE } from '@halfsplit/network'
import type { Kind } from '../kind.js'

const SECONDS_A_MINUTE = 60

/**
 * The table has no rows for a cab: modes and incidence are an assumption.
 * Minutes and prices of the repairs are assumptions of the invented depot.
 */
export const cabAir: Kind = {
  name: 'cab-air',
  title: 'cab with its air',
  letter: 'B',
  symbol: 'room at a temperature',
  about: 'Air and lining of a cab as one mass: what heats it makes it warm, what leaks out makes it cold.',
  incidence: 0.5,
  ports: [{ name: 'air', domain: 'thermal', about: 'of the cab' }],
  ratings: {
    capacity: { dimension: 'heatCapacity', about: 'of air, seats and lining that warm with it', default: '80 kJ/K' },
    loss: { dimension: 'thermalConductance', about: 'to the outside, all shut', default: '70 W/K +- 15 %' },
  },
  settings: {
    temperature: { about: 'of the cab', dimension: 'temperature', default: '20 degC' },
    outside: { about: 'temperature outside', dimension: 'temperature', default: '20 degC' },
  },
  build(part, make) {
    const air = make.port('air')
    const outside = make.inner('outside', 'thermal')
    const charge = { charge: 'linear', capacity: part.value('capacity') } as const
    make.add({ type: 'store', id: 'mass', a: air, b: REFERENCE, charge, holds: part.imposed('temperature') })
    make.add({ type: 'across', id: 'outside', a: outside, b: REFERENCE, value: part.imposed('outside'), resistance: 0 })
    make.conductance('loss', air, outside, part.value('loss') * (1 + (part.fault('draught') ?? 0)))
  },
  modes: [
    {
      id: 'draught',
      title: 'door seal gone or fresh-air flap open',
      share: 1,
      // Added loss over the usual one.
      severity: { dimension: 'fraction', scale: 'linear', nodes: [1, 2, 4] },
      repair: 'seal',
    },
  ],
  repairs: { seal: { title: 'renew the door seal, set the flap', minutes: 60, price: 40 } },
  looks: [
    {
      name: 'warms',
      about: 'cab over ten minutes with the doors shut',
      words: ['stays cold', 'warms slowly', 'warms up'],
      // Kelvin a minute. An assumption.
      levels: [
        [0.2, 0.5],
        [1.3, 1.8],
      ],
      quantity: (part) => ({ probe: { through: 'mass' }, scale: SECONDS_A_MINUTE / part.value('capacity') }),
      by: 'operator',
      minutes: 10,
    },
  ],
}
