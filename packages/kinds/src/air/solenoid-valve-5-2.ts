import * as valve from '../electrical/solenoid.js'
import type { Kind } from '../kind.js'
import { airHazard, hissLook, orifice } from './orifice.js'
import { HOT_COIL, hotBody } from '../present.js'

/** Minutes and prices of the repairs are assumptions of the invented depot. */
export const solenoidValve52: Kind = {
  name: 'solenoid-valve-5-2',
  title: '5/2 solenoid valve',
  letter: 'Q',
  symbol: '5/2 valve, solenoid operated, spring return',
  about:
    'With the coil dead it joins supply to `b` and lets `a` out, with the coil live the other way round: for a double-acting cylinder.',
  incidence: 2,
  ports: [
    { name: 'coil_a', domain: 'electrical', about: 'coil, feed side' },
    { name: 'coil_b', domain: 'electrical', about: 'coil, ground side' },
    { name: 'supply', domain: 'gas', about: 'air in' },
    { name: 'a', domain: 'gas', about: 'fed with the coil live' },
    { name: 'b', domain: 'gas', about: 'fed with the coil dead' },
    { name: 'exhaust_a', domain: 'gas', about: 'open to the air, from a' },
    { name: 'exhaust_b', domain: 'gas', about: 'open to the air, from b' },
  ],
  ratings: valve.VALVE_RATINGS,
  choices: valve.VALVE_CHOICES,
  settings: valve.VALVE_SETTINGS,
  build(part, make) {
    const pulled = valve.addMagnet(part, make)
    const { dead, pulled: shifted } = valve.positions(part)
    const passage = part.value('passage')
    const seat = part.fault('leaks_internally') ?? 0
    const law = (open: boolean) => orifice(open ? Math.max(passage, seat) : seat)
    const out = (open: boolean) => (part.fault('exhaust_or_filter_blocked') ? orifice(0) : law(open))
    const [supply, a, b] = [make.port('supply'), make.port('a'), make.port('b')]
    make.gate('feed_a', supply, a, law(shifted), law(dead), pulled)
    make.gate('feed_b', supply, b, law(!shifted), law(!dead), pulled)
    make.gate('vent_a', a, make.port('exhaust_a'), out(!shifted), out(!dead), pulled)
    make.gate('vent_b', b, make.port('exhaust_b'), law(shifted), law(dead), pulled)
    make.law('exhaust_a', make.port('exhaust_a'), make.air, orifice(passage))
    make.law('exhaust_b', make.port('exhaust_b'), make.air, orifice(passage))
    make.law('leak', supply, make.air, orifice(part.fault('leaks_externally') ?? 0))
  },
  modes: [
    ...valve.VALVE_MODES,
    // One of its two exhausts; half blocked it is only slow.
    { id: 'exhaust_or_filter_blocked', title: 'exhaust of `a` blocked', share: 0.09, repair: 'clean' },
  ],
  repairs: valve.VALVE_REPAIRS,
  looks: [
    ...valve.VALVE_LOOKS,
    hissLook('exhaust_a', 'air blowing from the exhaust of `a`', 'exhaust_a'),
    hissLook('exhaust_b', 'air blowing from the exhaust of `b`', 'exhaust_b'),
  ],
  says: () => ({ pulled: { on: 'pulls in', off: 'drops out' } }),
  isolated: valve.VALVE_ISOLATED,
  hazards: [airHazard('supply', 'a', 'b'), { title: 'hot', caution: HOT_COIL, present: hotBody }],
  load: { feed: 'coil_a', ground: 'coil_b' },
  unplugs: true,
  swaps: true,
}
