import { GAP } from '../insulation.js'
import type { Kind } from '../kind.js'

/**
 * The table has no row for a resistor: modes and incidence are an assumption.
 * Minutes and prices of the repairs are assumptions of the invented depot.
 */
export const resistor: Kind = {
  name: 'resistor',
  title: 'resistor',
  letter: 'R',
  symbol: 'resistor',
  about: 'Fixed resistor: dropping, excitation, suppression.',
  incidence: 0.3,
  ports: [
    { name: 'a', domain: 'electrical', about: 'one end' },
    { name: 'b', domain: 'electrical', about: 'other end' },
  ],
  ratings: { resistance: { dimension: 'resistance', about: 'at 20 degC', default: '100 Ohm +- 5 %' } },
  build(part, make) {
    const resistance = part.value('resistance') * (1 + (part.fault('drifted') ?? 0))
    make.conductance('resistor', make.port('a'), make.port('b'), part.fault('open') ? GAP : 1 / resistance)
  },
  modes: [
    { id: 'open', title: 'open', share: 0.7, repair: 'replace' },
    {
      id: 'drifted',
      title: 'drifted',
      share: 0.3,
      severity: { dimension: 'fraction', scale: 'linear', nodes: [-0.5, -0.25, 0.3, 1, 4] },
      repair: 'replace',
    },
  ],
  repairs: { replace: { title: 'replace the resistor', minutes: 12, price: 3 } },
  isolated: [{ title: 'resistance', red: 'a', black: 'b', minutes: 4 }],
  unplugs: true,
  swaps: true,
}
