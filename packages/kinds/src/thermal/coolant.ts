import { REFERENCE } from '@halfsplit/network'
import type { Kind } from '../kind.js'
import { FILL, LEVEL_LOOK, LOW_LEVEL } from './coolant-level.js'
import { addSurroundings } from './surroundings.js'
import { scalding } from '../present.js'

/** Coupling of the liquid with what sits in it [W/K]: so much more than that of a switch that none cools it. */
const STIRRED = 1e4

/**
 * The table has no row for a liquid: the incidence is an assumption.
 * Minutes and prices of the repairs are assumptions of the invented depot.
 */
export const coolant: Kind = {
  name: 'coolant',
  title: 'coolant or oil at a temperature',
  letter: 'C',
  symbol: 'liquid at a temperature',
  about: 'Liquid whose temperature the state of the machine imposes: coolant, or oil in its place.',
  incidence: 0.5,
  ports: [{ name: 'liquid', domain: 'thermal', about: 'where switches and senders are screwed in' }],
  ratings: {},
  settings: { temperature: { about: 'of the liquid', dimension: 'temperature', default: '20 degC' } },
  build(part, make) {
    const bath = make.inner('bath', 'thermal')
    make.add({ type: 'across', id: 'bath', a: bath, b: REFERENCE, value: part.imposed('temperature'), resistance: 0 })
    const bare = part.fault('low_level') ?? 0
    const liquid = make.port('liquid')
    make.conductance('wetted', bath, liquid, STIRRED * (1 - bare))
    make.conductance('bare', liquid, addSurroundings(make), STIRRED * bare)
    make.signal('low', (id) => ({ type: 'imposed', id, value: bare > 0 }))
  },
  modes: [LOW_LEVEL],
  repairs: { fill: FILL },
  looks: [LEVEL_LOOK],
  hazards: [{ title: 'hot', harm: 'lasting', caution: 'Open no cap under pressure.', present: scalding('bath') }],
}
