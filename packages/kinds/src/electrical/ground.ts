import { GAP } from '../insulation.js'
import type { Kind } from '../kind.js'
import { beyondJoint, jointSeverity } from '../severity.js'

/** Minutes and prices of the repairs are assumptions of the invented depot. */
export const ground: Kind = {
  name: 'ground',
  title: 'ground point',
  letter: 'X',
  symbol: 'frame connection',
  about: 'Ring on a stud, strap end, block to frame: where a return meets the metal.',
  incidence: 3,
  ports: [
    { name: 'a', domain: 'electrical', about: 'what is grounded: its ring or cable' },
    { name: 'b', domain: 'electrical', about: 'the metal it is bonded to' },
  ],
  ratings: {
    joint: { dimension: 'resistance', about: 'ring to metal', default: '2 mOhm', spread: 'factor' },
  },
  build(part, make) {
    const added = part.fault('high_resistance') ?? part.fault('wrong_place') ?? 0
    const off = part.fault('open') ?? part.fault('intermittent')
    make.conductance('joint', make.port('a'), make.port('b'), off ? GAP : 1 / (part.value('joint') + added))
  },
  modes: [
    {
      id: 'high_resistance',
      title: 'high resistance',
      share: 0.62,
      severity: (part) => beyondJoint(part.value('joint')),
      repair: 'clean',
    },
    { id: 'intermittent', title: 'loose, comes and goes', share: 0.18, intermittent: true, repair: 'clean' },
    { id: 'open', title: 'open', share: 0.17, repair: 'clean' },
    {
      id: 'wrong_place',
      title: 'moved to metal that is not bonded',
      share: 0.03,
      byHand: true,
      severity: jointSeverity(1),
      repair: 'move',
    },
  ],
  repairs: {
    clean: { title: 'clean to bright metal and tighten the ground point', minutes: 15, price: 3, disturbs: true },
    move: { title: 'put the ground back to its own place', minutes: 25, price: 6, disturbs: true },
  },
}
