import { STANDARD_ATMOSPHERE } from '@halfsplit/core'
import type { Kind } from '../kind.js'
import { shiftSeverity } from '../severity.js'
import { airHazard, orifice } from './orifice.js'

/** Half the usual tolerance of a governor [Pa]. Common practice, no source. */
const TOLERANCE = 0.2e5

/** Minutes and prices of the repairs are assumptions of the invented depot. */
export const governor: Kind = {
  name: 'governor',
  title: 'air governor',
  letter: 'Q',
  symbol: 'pressure operated 3/2 valve with hysteresis',
  about: 'At its cut-out pressure it sends air to unloader and purge valve, at its cut-in pressure it lets that air out again.',
  // Of "air governor and dryer": the governor.
  incidence: 2 * 0.18,
  ports: [
    { name: 'reservoir', domain: 'gas', about: 'line from the tank: what it senses and what it sends' },
    { name: 'control', domain: 'gas', about: 'line to unloader and purge valve' },
  ],
  ratings: {
    cut_out: { dimension: 'absolutePressure', about: 'sends air, coming up', default: '8.3 bar +- 0.2 bar' },
    cut_in: { dimension: 'absolutePressure', about: 'lets it out, going down', default: '6.9 bar +- 0.2 bar' },
    passage: { dimension: 'sonicConductance', about: 'either way', default: '0.6 l/(s.bar)' },
  },
  build(part, make) {
    const [reservoir, control] = [make.port('reservoir'), make.port('control')]
    const drift = (part.fault('set_point_drifted') ?? 0) - STANDARD_ATMOSPHERE
    const tripped = make.threshold('tripped', reservoir, make.air, 1, part.value('cut_out') + drift, part.value('cut_in') + drift)
    const open = part.value('passage')
    const [sends, rests] = [part.fault('stuck_cut_in') === undefined, part.fault('stuck_cut_out') !== undefined]
    make.gate('feed', reservoir, control, orifice(sends ? open : 0), orifice(rests ? open : 0), tripped)
    make.gate('exhaust', control, make.air, orifice(sends ? 0 : open), orifice(rests ? 0 : open), tripped)
  },
  modes: [
    {
      id: 'set_point_drifted',
      title: 'cuts in and out at wrong pressures',
      share: 0.1,
      severity: shiftSeverity('pressureDifference', TOLERANCE, [2, 4, 7, 12]),
      repair: 'adjust',
    },
    { id: 'stuck_cut_in', title: 'stuck, never cuts out', share: 0.05, repair: 'replace' },
    { id: 'stuck_cut_out', title: 'stuck, never cuts in', share: 0.03, repair: 'replace' },
  ],
  repairs: {
    adjust: { title: 'set the governor by a gauge, or replace it', minutes: 30, price: 20 },
    replace: { title: 'replace the governor', minutes: 40, price: 55 },
  },
  says: () => ({ tripped: { on: 'cuts out', off: 'cuts in', acts: { by: 'pressureDifference', on: 'cut out', off: 'cut in' } } }),
  hazards: [airHazard('reservoir', 'control')],
}
