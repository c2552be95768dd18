import type { Kind } from '../kind.js'
import { blockedSeverity, leakSeverity } from '../severity.js'
import { airHazard, hissLook, left, orifice } from './orifice.js'

/** Minutes and prices of the repairs are assumptions of the invented depot. */
export const fitting: Kind = {
  name: 'fitting',
  title: 'air fitting',
  letter: 'X',
  symbol: 'line connection',
  about: 'Push-in, flared or threaded fitting, or a quick coupler. A gauge goes on here.',
  // Without: draws air on the suction side, which is of oil.
  incidence: 1.2 * 0.97,
  ports: [
    { name: 'a', domain: 'gas', about: 'supply side' },
    { name: 'b', domain: 'gas', about: 'far side' },
  ],
  ratings: { passage: { dimension: 'sonicConductance', about: 'clear', default: '4 l/(s.bar)' } },
  build(part, make) {
    const off = part.fault('comes_off')
    const clear = part.value('passage')
    make.law('passage', make.port('a'), make.port('b'), orifice(off ? 0 : left(clear, part.fault('restricted'))))
    make.law('leak', make.port('a'), make.air, orifice(off ? clear : (part.fault('leaks_outside') ?? 0)))
    make.law('far_end', make.port('b'), make.air, orifice(off ? clear : 0))
  },
  modes: [
    { id: 'leaks_outside', title: 'leaks', share: 0.8, severity: leakSeverity(), repair: 'renew' },
    { id: 'restricted', title: 'blocked', share: 0.12, severity: blockedSeverity(), repair: 'renew' },
    { id: 'comes_off', title: 'came off', share: 0.05, repair: 'renew' },
  ],
  repairs: { renew: { title: 'renew the fitting and cut the tube end back', minutes: 15, price: 7 } },
  looks: [hissLook('leak', 'air at the fitting', 'leak')],
  hazards: [airHazard('a', 'b')],
}
