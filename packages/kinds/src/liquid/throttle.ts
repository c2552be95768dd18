import type { Kind } from '../kind.js'
import { blockedSeverity } from '../severity.js'
import { addOutside, dripSeverity, leakOf, oilHazard, opening, openingFor, wetLook } from './oil.js'

/**
 * The table has no row for a throttle: modes and incidence are an assumption after its row for a fitting.
 * Minutes and prices of the repairs are assumptions of the invented depot.
 */
export const throttle: Kind = {
  name: 'throttle',
  title: 'throttle',
  letter: 'R',
  symbol: 'throttle valve',
  about: 'Narrow opening that sets how fast oil flows.',
  incidence: 0.6,
  ports: [
    { name: 'a', domain: 'liquid', about: 'one side' },
    { name: 'b', domain: 'liquid', about: 'other side' },
  ],
  ratings: {
    flow: { dimension: 'volumeFlow', about: 'at its pressure difference', default: '5 l/min +- 8 %' },
    drop: { dimension: 'pressureDifference', about: 'at that flow', default: '25 bar' },
  },
  build(part, make) {
    const left = 1 - (part.fault('restricted') ?? 0)
    const k = openingFor(part.value('flow'), part.value('drop')) * Math.max(0, left) * (part.fault('turned_open') ?? 1)
    make.law('opening', make.port('a'), make.port('b'), opening(k))
    make.conductance('leak', make.port('a'), addOutside(make), leakOf(part.fault('leaks_outside')))
  },
  modes: [
    { id: 'restricted', title: 'blocked', share: 0.5, severity: blockedSeverity(), repair: 'clean' },
    { id: 'leaks_outside', title: 'leaks outside', share: 0.4, severity: dripSeverity(), repair: 'clean' },
    {
      id: 'turned_open',
      title: 'set too wide',
      share: 0.1,
      byHand: true,
      severity: { dimension: 'fraction', scale: 'linear', nodes: [1.8, 3] },
      repair: 'adjust',
    },
  ],
  repairs: {
    clean: { title: 'clean the throttle and renew its seals', minutes: 20, price: 5 },
    adjust: { title: 'set the throttle by a stopwatch', minutes: 10, price: 0 },
  },
  looks: [wetLook('oil at the throttle')],
  hazards: [oilHazard('a', 'b')],
}
