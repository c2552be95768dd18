import { REFERENCE } from '@halfsplit/network'
import type { Kind } from '../kind.js'
import { scalding, turning } from '../present.js'

/** Heat capacity rate that stands for a well-stirred side of an exchanger [W/K]. */
const STIRRED = 1e12

/** What a core gives off to still air, over its rated conductance. An assumption. */
const STILL = 0.02

/**
 * Coolant in it at one temperature, that of its outlet; the air takes heat by the exchanger's law, the coolant's side well stirred.
 * The table has no rows for a radiator: modes and incidence are an assumption.
 * Minutes and prices of the repairs are assumptions of the invented depot.
 */
export const radiator: Kind = {
  name: 'radiator',
  title: 'radiator',
  letter: 'E',
  symbol: 'heat exchanger',
  about: 'Gives the heat of the coolant to the air; its air flow goes with the speed of the fan.',
  incidence: 1,
  ports: [
    { name: 'coolant', domain: 'thermal', about: 'hose from the thermostat' },
    { name: 'fan', domain: 'rotation', about: 'blades that draw air through it' },
  ],
  ratings: {
    core: { dimension: 'thermalConductance', about: 'of the clean core, coolant to air', default: '1 kW/K +- 10 %' },
    air: {
      dimension: 'thermalConductance',
      about: 'heat capacity rate of the air at the rated speed of the fan: 1 kg/s is 1 kW/K',
      default: '3.5 kW/K',
    },
    fan_speed: { dimension: 'angularSpeed', about: 'of the fan that draws this air', default: '2000 rpm' },
    capacity: { dimension: 'heatCapacity', about: 'of the core and the coolant in it', default: '40 kJ/K' },
  },
  settings: { air: { about: 'temperature of the air in front of it', dimension: 'temperature', default: '20 degC' } },
  build(part, make) {
    const coolant = make.port('coolant')
    const air = make.inner('air', 'thermal')
    make.add({ type: 'across', id: 'air', a: air, b: REFERENCE, value: part.imposed('air'), resistance: 0 })
    const charge = { charge: 'linear', capacity: part.value('capacity') } as const
    make.add({ type: 'store', id: 'mass', a: coolant, b: REFERENCE, charge })
    const clear = 1 - (part.fault('blocked_outside') ?? 0)
    const ua = part.value('core') * clear * (1 - (part.fault('blocked_inside') ?? 0))
    make.add({
      type: 'law',
      id: 'core',
      a: coolant,
      b: air,
      law: { law: 'exchanger', hot: STIRRED, cold: part.value('air') * clear, ua },
      gains: [{ of: 'cold', node: make.port('fan'), curve: { curve: 'power', reference: part.value('fan_speed'), exponent: 1 } }],
    })
    make.conductance('still', coolant, air, STILL * ua)
    make.signal('dirty', (id) => ({ type: 'imposed', id, value: clear < 1 }))
  },
  modes: [
    {
      id: 'blocked_outside',
      title: 'fins blocked by dirt, snow or a cover',
      share: 0.6,
      severity: { dimension: 'fraction', scale: 'linear', nodes: [0.3, 0.5, 0.7, 0.9] },
      repair: 'clean',
    },
    {
      id: 'blocked_inside',
      title: 'tubes blocked by scale or sealant',
      share: 0.4,
      severity: { dimension: 'fraction', scale: 'linear', nodes: [0.3, 0.5, 0.7, 0.9] },
      repair: 'replace',
    },
  ],
  repairs: {
    clean: { title: 'blow and wash out the fins of the radiator', minutes: 40, price: 0 },
    replace: { title: 'replace or rod out the radiator', minutes: 180, price: 420 },
  },
  looks: [
    {
      name: 'fins',
      about: 'fins of the radiator, seen from both sides with a lamp',
      words: ['clear', 'blocked'],
      levels: [[0.4, 0.6]],
      quantity: () => ({ signal: 'dirty' }),
      by: 'technician',
      minutes: 3,
    },
  ],
  hazards: [
    { title: 'hot', harm: 'lasting', caution: 'Open no cap under pressure: coolant scalds.', present: scalding('coolant') },
    {
      title: 'starts by itself',
      caution: 'The fan in front of it can start: stop the engine before a hand goes near.',
      present: turning('fan'),
    },
  ],
}
