import type { Kind } from '../kind.js'
import { addOutside, dripSeverity, leakOf, oilHazard, opening, openingFor, seatSeverity, wetLook } from './oil.js'

/**
 * The table has no row for a cock: modes and incidence are an assumption after its row for a fitting.
 * Minutes and prices of the repairs are assumptions of the invented depot.
 */
export const stopCock: Kind = {
  name: 'stop-cock',
  title: 'stop cock',
  letter: 'Q',
  symbol: 'shut-off valve, manually operated',
  about: 'Ball cock in an oil line: shut, it holds what is behind it.',
  incidence: 0.5,
  ports: [
    { name: 'a', domain: 'liquid', about: 'one side' },
    { name: 'b', domain: 'liquid', about: 'other side' },
  ],
  ratings: {
    flow: { dimension: 'volumeFlow', about: 'at a pressure difference of one bar, open', default: '20 l/min' },
  },
  settings: { position: { about: 'of its handle', words: ['open', 'shut'], default: 'open' } },
  build(part, make) {
    const seat = leakOf(part.fault('leaks_internally'))
    const open = part.setting('position') === 'open' && !part.fault('stuck_shut')
    make.law('ball', make.port('a'), make.port('b'), opening(open ? openingFor(part.value('flow'), 1e5) : 0))
    make.conductance('seat', make.port('a'), make.port('b'), seat)
    make.conductance('leak', make.port('a'), addOutside(make), leakOf(part.fault('leaks_outside')))
  },
  modes: [
    { id: 'leaks_outside', title: 'leaks outside', share: 0.6, severity: dripSeverity(), repair: 'replace' },
    { id: 'leaks_internally', title: 'leaks though shut', share: 0.3, severity: seatSeverity(), repair: 'replace' },
    { id: 'stuck_shut', title: 'stuck shut, handle turns on its stem', share: 0.1, repair: 'replace' },
  ],
  repairs: { replace: { title: 'replace the stop cock', minutes: 30, price: 30 } },
  looks: [wetLook('oil at the stop cock')],
  hazards: [oilHazard('a', 'b')],
}
