import { wireResistance } from '@halfsplit/core'
import { GAP } from '../insulation.js'
import type { Kind } from '../kind.js'
import { beyondJoint, logSeverity } from '../severity.js'

/** Minutes and prices of the repairs are assumptions of the invented depot. */
export const wire: Kind = {
  name: 'wire',
  title: 'wire',
  letter: 'W',
  symbol: 'conductor',
  about: 'One run of copper from terminal to terminal.',
  incidence: 1,
  ports: [
    { name: 'a', domain: 'electrical', about: 'one end' },
    { name: 'b', domain: 'electrical', about: 'other end' },
  ],
  ratings: {
    length: { dimension: 'length', about: 'length of the run', default: '1 m' },
    size: { dimension: 'area', about: 'cross-section of the copper', default: '1.5 mm2' },
    joints: { dimension: 'resistance', about: 'its two crimped ends together', default: '4 mOhm', spread: 'factor' },
  },
  build(part, make) {
    const run = wireResistance(part.value('size'), part.value('length'), part.temperature)
    const resistance = run + part.value('joints') + (part.fault('high_resistance') ?? 0)
    const cut = part.fault('open') ?? part.fault('intermittent_open')
    make.conductance('run', make.port('a'), make.port('b'), cut ? GAP : 1 / resistance)
    const chafed = part.fault('short_to_ground') ?? part.fault('leak_to_ground')
    make.conductance('chafe', make.port('a'), make.frame, chafed ? 1 / chafed : 0)
  },
  modes: [
    {
      id: 'high_resistance',
      title: 'high resistance',
      share: 0.34,
      severity: (part) => beyondJoint(part.value('joints')),
      repair: 'replace',
    },
    { id: 'open', title: 'open', share: 0.28, repair: 'replace' },
    { id: 'intermittent_open', title: 'intermittent open', share: 0.16, intermittent: true, repair: 'replace' },
    {
      id: 'short_to_ground',
      title: 'short to ground',
      share: 0.14,
      severity: logSeverity('resistance', 0.02, 1, 3),
      repair: 'replace',
    },
    { id: 'short_to_another_wire', title: 'short to another wire', share: 0.06, bridges: 'harness', repair: 'replace' },
    {
      id: 'leak_to_ground',
      title: 'leak to ground',
      share: 0.02,
      severity: logSeverity('resistance', 300, 1e6, 5),
      repair: 'replace',
    },
  ],
  repairs: { replace: { title: 'replace the wire', minutes: 20, price: 8 } },
}
