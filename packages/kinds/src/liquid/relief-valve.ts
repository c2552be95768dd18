import type { Kind } from '../kind.js'
import { shiftSeverity } from '../severity.js'
import { addOutside, dripSeverity, leakOf, oilHazard, SEEP, seatSeverity, wetLook } from './oil.js'

/** Half the usual tolerance of a relief valve [Pa]. Common practice, no source. */
const TOLERANCE = 5e5

/** Minutes and prices of the repairs are assumptions of the invented depot. */
export const reliefValve: Kind = {
  name: 'relief-valve',
  title: 'relief valve',
  letter: 'F',
  symbol: 'pressure relief valve',
  about: 'Lets oil back to the tank above its set pressure.',
  // Of "regulator", without: droops under flow.
  incidence: 0.8,
  ports: [
    { name: 'in', domain: 'liquid', about: 'line it guards' },
    { name: 'tank', domain: 'liquid', about: 'return' },
  ],
  ratings: {
    set: { dimension: 'pressureDifference', about: 'opens', default: '175 bar +- 5 bar' },
    flow: { dimension: 'volumeFlow', about: 'that passes for each bar above', default: '1 l/min' },
  },
  build(part, make) {
    const stuck = part.fault('stuck')
    const set = stuck === 0 ? 0 : Math.max(0, part.value('set') + (part.fault('set_point_drifted') ?? 0))
    const g = stuck === 1 ? 0 : part.value('flow') / 1e5
    make.law('seat', make.port('in'), make.port('tank'), {
      law: 'relief',
      set,
      g,
      leak: SEEP + leakOf(part.fault('dirt_on_its_seat')),
    })
    make.conductance('leak', make.port('in'), addOutside(make), leakOf(part.fault('leaks_outside')))
  },
  modes: [
    {
      id: 'set_point_drifted',
      title: 'set point drifted',
      share: 0.35,
      severity: shiftSeverity('pressureDifference', TOLERANCE, [3, 6, 11, 20, 28]),
      repair: 'adjust',
    },
    { id: 'dirt_on_its_seat', title: 'dirt on its seat', share: 0.25, severity: seatSeverity(), repair: 'clean' },
    { id: 'leaks_outside', title: 'leaks outside', share: 0.15, severity: dripSeverity(), repair: 'clean' },
    {
      id: 'stuck',
      title: 'stuck open or shut',
      share: 0.05,
      severity: { dimension: 'fraction', scale: 'linear', nodes: [0, 1] },
      repair: 'clean',
    },
  ],
  repairs: {
    adjust: { title: 'set the relief valve by a gauge', minutes: 20, price: 0 },
    clean: { title: 'clean or replace the relief valve', minutes: 40, price: 45 },
  },
  looks: [wetLook('oil at the relief valve')],
  hazards: [
    oilHazard('in'),
    {
      title: 'pressure',
      harm: 'damage',
      caution: 'Never set it above the maker’s figure; a second or two at the stop is enough to read it.',
    },
  ],
}
