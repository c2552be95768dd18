import type { Kind } from '../kind.js'
import { leakSeverity, logSeverity } from '../severity.js'
import { airHazard, CRITICAL_RATIO, hissLook, orifice } from './orifice.js'

/** Minutes and prices of the repairs are assumptions of the invented depot. */
export const airCheckValve: Kind = {
  name: 'air-check-valve',
  title: 'air check valve',
  letter: 'R',
  symbol: 'non-return valve',
  about: 'Lets air from inlet to outlet and none back.',
  incidence: 0.8,
  ports: [
    { name: 'in', domain: 'gas', about: 'inlet' },
    { name: 'out', domain: 'gas', about: 'outlet' },
  ],
  ratings: { passage: { dimension: 'sonicConductance', about: 'open', default: '3 l/(s.bar)' } },
  build(part, make) {
    const [inlet, outlet] = [make.port('in'), make.port('out')]
    const open = part.fault('stuck_closed') ? 0 : part.value('passage')
    const turned = part.fault('fitted_reversed') !== undefined
    const law = (c: number, leak: number) => ({ law: 'check', c, b: CRITICAL_RATIO, leak }) as const
    make.law('seat', inlet, outlet, law(turned ? 0 : open, part.fault('leaks_back') ?? 0))
    make.law('turned', outlet, inlet, law(turned ? open : 0, 0))
    make.law('leak', outlet, make.air, orifice(part.fault('leaks_outside') ?? 0))
  },
  modes: [
    {
      id: 'leaks_back',
      title: 'leaks back',
      share: 0.66,
      // Share of its passage that stays open: from 5 l/min out of 8 bar to a third. An assumption.
      severity: logSeverity('fraction', 3e-3, 0.3, 7),
      repair: 'replace',
    },
    { id: 'stuck_closed', title: 'stuck closed', share: 0.22, repair: 'replace' },
    { id: 'fitted_reversed', title: 'fitted the wrong way round', share: 0.06, byHand: true, repair: 'turn' },
    { id: 'leaks_outside', title: 'leaks outside', share: 0.06, severity: leakSeverity(), repair: 'replace' },
  ],
  repairs: {
    replace: { title: 'clean or replace the check valve', minutes: 25, price: 20 },
    turn: { title: 'turn the check valve round', minutes: 20, price: 0 },
  },
  looks: [hissLook('leak', 'air at the check valve', 'leak')],
  hazards: [airHazard('in', 'out')],
}
