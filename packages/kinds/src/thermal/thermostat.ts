import type { Curve } from '@halfsplit/network'
import type { Kind, PartView } from '../kind.js'
import { shiftSeverity } from '../severity.js'
import { scalding } from '../present.js'

/** Half the usual tolerance of the opening temperature [K]: drift is what lies beyond it. Common practice, no source. */
const TOLERANCE = 2

/** Share of the flow that passes it shut, through the jiggle valve and past the seat. An assumption. */
const SHUT = 0.01

/** How far it is open at its own temperature. */
function opening(part: PartView): Curve {
  const from = part.value('opens') + (part.fault('opens_late') ?? 0)
  const low = part.fault('stuck_open') ?? SHUT
  const high = part.fault('stuck_shut') ? SHUT : 1
  return { curve: 'ramp', from, to: from + part.value('travel'), low, high: Math.max(high, low) }
}

/**
 * Carries the coolant to the radiator and back. What goes out at one temperature comes back at the other, so that the pair of streams
 * is a conductance: the heat capacity rate of the flow, which follows the pump's speed and the opening.
 * The table has no rows for a thermostat: modes and incidence are an assumption.
 * Minutes and prices of the repairs are assumptions of the invented depot.
 */
export const thermostat: Kind = {
  name: 'thermostat',
  title: 'thermostat of the engine',
  letter: 'Q',
  symbol: 'valve, thermostatic',
  about:
    'Wax thermostat between engine and radiator: begins to open at its temperature and is full open at the end of its travel.',
  incidence: 1,
  ports: [
    { name: 'engine', domain: 'thermal', about: 'coolant of the engine, in which it sits' },
    { name: 'radiator', domain: 'thermal', about: 'hose to the radiator' },
    { name: 'pump', domain: 'rotation', about: 'impeller that drives the coolant' },
  ],
  ratings: {
    opens: { dimension: 'temperature', about: 'begins to open', default: '82 degC +- 2 K' },
    travel: { dimension: 'temperatureDifference', about: 'full open so much above', default: '12 K' },
    flow: {
      dimension: 'thermalConductance',
      about: 'heat capacity rate of the coolant, full open: 1 l/s is 3.6 kW/K',
      default: '7 kW/K',
    },
    pump_speed: { dimension: 'angularSpeed', about: 'of the impeller that drives this flow', default: '2000 rpm' },
  },
  build(part, make) {
    const [a, b] = [make.port('engine'), make.port('radiator')]
    make.add({
      type: 'law',
      id: 'flow',
      a,
      b,
      law: { law: 'linear', g: part.value('flow') },
      gains: [
        { of: 'g', node: a, curve: opening(part) },
        { of: 'g', node: make.port('pump'), curve: { curve: 'power', reference: part.value('pump_speed'), exponent: 1 } },
      ],
    })
  },
  modes: [
    {
      id: 'stuck_open',
      title: 'stuck open',
      share: 0.5,
      // How far it stays open, cold.
      severity: { dimension: 'fraction', scale: 'linear', nodes: [0.15, 0.4, 1] },
      repair: 'replace',
    },
    { id: 'stuck_shut', title: 'stuck shut', share: 0.3, repair: 'replace' },
    {
      id: 'opens_late',
      title: 'opens late, or early',
      share: 0.2,
      severity: shiftSeverity('temperatureDifference', TOLERANCE, [2, 4, 7]),
      repair: 'replace',
    },
  ],
  repairs: { replace: { title: 'replace the thermostat and its gasket', minutes: 45, price: 28 } },
  looks: [
    {
      name: 'hose',
      about: 'upper hose of the radiator, by touch or thermometer',
      words: ['no warmer than the air', 'lukewarm', 'hot'],
      // A hand tells 30 from 35 degC, and 42 from 48. An assumption.
      levels: [
        [303, 308],
        [315, 321],
      ],
      quantity: () => ({ probe: { across: { radiator: 1 } }, scale: 1 }),
      by: 'technician',
      minutes: 2,
    },
  ],
  hazards: [
    {
      title: 'hot',
      harm: 'lasting',
      caution: 'Let the engine cool and the pressure off before the housing is opened.',
      present: scalding('engine'),
    },
  ],
}
