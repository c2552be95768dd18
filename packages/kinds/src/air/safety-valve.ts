import { STANDARD_ATMOSPHERE } from '@halfsplit/core'
import type { Kind } from '../kind.js'
import { leakSeverity, shiftSeverity } from '../severity.js'
import { airHazard, hissLook, orifice } from './orifice.js'
import { above } from '../present.js'

/** Half the usual tolerance of a safety valve [Pa]. Common practice, no source. */
const TOLERANCE = 0.3e5

/** Rise of its flow above the opening pressure [kg/(s.Pa)]: the whole of a bus compressor in a third of a bar. An assumption. */
const LIFT = 1e-7

/** Air that is heard to blow [kg/s]: as from a hiss upwards. An assumption. */
const BLOWS = 1e-4

/** Minutes and prices of the repairs are assumptions of the invented depot. */
export const safetyValve: Kind = {
  name: 'safety-valve',
  title: 'air safety valve',
  letter: 'F',
  symbol: 'pressure relief valve',
  about: 'Blows into the open air above its opening pressure. A blowing one has its reason elsewhere.',
  // Of "regulator", without: droops under flow, leaks outside, which are the same thing here as its seat.
  incidence: 0.65,
  ports: [{ name: 'air', domain: 'gas', about: 'line it guards' }],
  ratings: { opens: { dimension: 'absolutePressure', about: 'starts to blow', default: '10.5 bar +- 0.3 bar' } },
  build(part, make) {
    const set = Math.max(0, part.value('opens') - STANDARD_ATMOSPHERE + (part.fault('set_point_drifted') ?? 0))
    make.law('seat', make.port('air'), make.air, { law: 'relief', set, g: part.fault('stuck') ? 0 : LIFT, leak: 0 })
    make.law('leak', make.port('air'), make.air, orifice(part.fault('leaks_at_its_seat') ?? 0))
  },
  modes: [
    {
      id: 'set_point_drifted',
      title: 'opens at a wrong pressure',
      share: 0.35,
      severity: shiftSeverity('pressureDifference', TOLERANCE, [2, 4, 7, 11]),
      repair: 'replace',
    },
    { id: 'leaks_at_its_seat', title: 'leaks at its seat', share: 0.25, severity: leakSeverity(), repair: 'replace' },
    { id: 'stuck', title: 'stuck shut', share: 0.05, repair: 'replace' },
  ],
  repairs: { replace: { title: 'replace the safety valve', minutes: 20, price: 18 } },
  looks: [
    hissLook('blow', 'air blowing from the safety valve', 'seat'),
    hissLook('leak', 'air at the seat of the safety valve', 'leak'),
  ],
  hazards: [
    airHazard('air'),
    {
      title: 'blows',
      caution: 'Never set it higher or plug it; stop the engine when it blows.',
      present: above(BLOWS, () => ({ probe: { through: 'seat' }, scale: 1, absolute: true })),
    },
  ],
}
