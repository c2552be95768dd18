import type { Kind } from '../kind.js'
import { blockedSeverity, leakSeverity } from '../severity.js'
import { airHazard, hissLook, left, orifice } from './orifice.js'

/**
 * The table has no row for a screen: modes and incidence are an assumption after its rows for hose and regulator.
 * Minutes and prices of the repairs are assumptions of the invented depot.
 */
export const screen: Kind = {
  name: 'screen',
  title: 'screen',
  letter: 'V',
  symbol: 'filter',
  about: 'Filter or screen in an air line.',
  incidence: 0.5,
  ports: [
    { name: 'in', domain: 'gas', about: 'supply' },
    { name: 'out', domain: 'gas', about: 'clean side' },
  ],
  ratings: { passage: { dimension: 'sonicConductance', about: 'clean', default: '2 l/(s.bar)' } },
  build(part, make) {
    make.law('mesh', make.port('in'), make.port('out'), orifice(left(part.value('passage'), part.fault('restricted'))))
    make.law('leak', make.port('in'), make.air, orifice(part.fault('leaks_outside') ?? 0))
  },
  modes: [
    { id: 'restricted', title: 'blocked', share: 0.8, severity: blockedSeverity(), repair: 'clean' },
    { id: 'leaks_outside', title: 'leaks at its bowl', share: 0.2, severity: leakSeverity(), repair: 'seal' },
  ],
  repairs: {
    clean: { title: 'clean or replace the screen', minutes: 15, price: 8 },
    seal: { title: 'renew the seal of the bowl', minutes: 15, price: 4 },
  },
  looks: [hissLook('leak', 'air at the bowl', 'leak')],
  hazards: [airHazard('in', 'out')],
}
