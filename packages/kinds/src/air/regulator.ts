import type { Law } from '@halfsplit/network'
import type { Kind, PartView } from '../kind.js'
import { blockedSeverity, leakSeverity, logSeverity, shiftSeverity } from '../severity.js'
import { airHazard, CRITICAL_RATIO, hissLook, left, orifice } from './orifice.js'

/** Half the usual tolerance of a set point [Pa]. Common practice, no source. */
const TOLERANCE = 0.3e5

/** The regulator's law; stuck, its opening (0 shut, 1 full) is the same whatever the pressure. */
function law(part: PartView): Law {
  const stuck = part.fault('stuck')
  return {
    law: 'regulator',
    c: left(part.value('passage'), part.fault('droops_under_flow')) * (stuck === undefined ? 1 : Math.min(1, Math.max(0, stuck))),
    b: CRITICAL_RATIO,
    set: part.value('set') + (part.fault('set_point_drifted') ?? 0),
    band: part.value('band'),
    creep: stuck === undefined ? (part.fault('creeps_up') ?? 0) : 1,
  }
}

/** Minutes and prices of the repairs are assumptions of the invented depot. */
export const regulator: Kind = {
  name: 'regulator',
  title: 'pressure regulator',
  letter: 'Q',
  symbol: 'pressure reducing valve',
  about: 'Closes as its outlet comes up to the set pressure; does not vent when it is above.',
  incidence: 1,
  ports: [
    { name: 'in', domain: 'gas', about: 'supply' },
    { name: 'out', domain: 'gas', about: 'regulated side' },
  ],
  ratings: {
    set: { dimension: 'absolutePressure', about: 'outlet pressure with no flow', default: '6.5 bar +- 0.3 bar' },
    band: { dimension: 'pressureDifference', about: 'below its set pressure it is full open', default: '0.5 bar' },
    passage: { dimension: 'sonicConductance', about: 'full open', default: '1 l/(s.bar)' },
  },
  build(part, make) {
    make.law('seat', make.port('in'), make.port('out'), law(part))
    make.law('leak', make.port('out'), make.air, orifice(part.fault('leaks_outside') ?? 0))
  },
  modes: [
    {
      id: 'set_point_drifted',
      title: 'set point drifted',
      share: 0.35,
      severity: shiftSeverity('pressureDifference', TOLERANCE, [1.5, 3, 5, 8]),
      repair: 'adjust',
    },
    {
      id: 'creeps_up',
      title: 'creeps up',
      share: 0.25,
      severity: logSeverity('fraction', 1e-4, 0.05, 5),
      repair: 'replace',
    },
    {
      id: 'droops_under_flow',
      title: 'droops under flow',
      share: 0.2,
      severity: blockedSeverity([0.7, 0.9, 0.97, 0.99]),
      repair: 'replace',
    },
    { id: 'leaks_outside', title: 'leaks outside', share: 0.15, severity: leakSeverity(), repair: 'replace' },
    {
      id: 'stuck',
      title: 'stuck: no pressure or all of it',
      share: 0.05,
      severity: { dimension: 'fraction', scale: 'linear', nodes: [0, 1] },
      repair: 'replace',
    },
  ],
  repairs: {
    adjust: { title: 'set the regulator by a gauge', minutes: 10, price: 0 },
    replace: { title: 'replace the regulator', minutes: 30, price: 60 },
  },
  looks: [hissLook('vent', 'air at the vent of the regulator', 'leak')],
  hazards: [airHazard('in', 'out')],
}
