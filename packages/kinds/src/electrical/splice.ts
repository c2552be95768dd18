import { GAP } from '../insulation.js'
import type { Kind } from '../kind.js'
import { beyondJoint, logSeverity } from '../severity.js'

const WIRES = ['a', 'b', 'c', 'd', 'e', 'f'] as const

/** Minutes and prices of the repairs are assumptions of the invented depot. */
export const splice: Kind = {
  name: 'splice',
  title: 'splice',
  letter: 'X',
  symbol: 'junction',
  about: 'Two to six wires joined in the harness. Wire `a` is the one the others hang on: it is the one that fails.',
  // Without: wrong wire joined, which takes a second wire to describe.
  incidence: 1.5 * 0.97,
  ports: WIRES.map((name) => ({
    name,
    domain: 'electrical' as const,
    about: name === 'a' ? 'wire the others hang on' : 'further wire, left out if not used',
    accessible: false,
  })),
  ratings: {
    joint: { dimension: 'resistance', about: 'crimp of one wire', default: '2 mOhm', spread: 'factor' },
  },
  build(part, make) {
    const crimp = make.inner('crimp', 'electrical')
    const joint = part.value('joint')
    const off = part.fault('open') ?? part.fault('intermittent_open')
    const first = off ? GAP : 1 / (joint + (part.fault('high_resistance') ?? 0))
    for (const wire of WIRES) make.conductance(wire, make.port(wire), crimp, wire === 'a' ? first : 1 / joint)
    const bare = part.fault('short_to_ground')
    make.conductance('bare', crimp, make.frame, bare ? 1 / bare : 0)
  },
  modes: [
    {
      id: 'high_resistance',
      title: 'high resistance',
      share: 0.48,
      severity: (part) => beyondJoint(part.value('joint')),
      repair: 'renew',
    },
    { id: 'intermittent_open', title: 'intermittent open', share: 0.24, intermittent: true, repair: 'renew' },
    { id: 'open', title: 'open', share: 0.2, repair: 'renew' },
    {
      id: 'short_to_ground',
      title: 'short to ground',
      share: 0.05,
      severity: logSeverity('resistance', 0.02, 1, 3),
      repair: 'renew',
    },
  ],
  repairs: { renew: { title: 'cut out and renew the splice', minutes: 20, price: 4 } },
}
