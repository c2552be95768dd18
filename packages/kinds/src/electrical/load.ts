import { GAP } from '../insulation.js'
import type { Kind, PartView } from '../kind.js'
import { beyondJoint } from '../severity.js'

const resistance = (part: PartView): number => part.value('voltage') ** 2 / part.value('power')

/**
 * The table has no row for a load in general: modes and incidence are an assumption after its rows for heater plugs and motors.
 * Minutes and prices of the repairs are assumptions of the invented depot.
 */
export const load: Kind = {
  name: 'load',
  title: 'load',
  letter: 'E',
  symbol: 'load',
  about: 'Anything that only takes current, by its power and the voltage that belongs to it: heater, fan, pump, radio.',
  incidence: 1,
  ports: [
    { name: 'feed', domain: 'electrical', about: 'feed terminal' },
    { name: 'ground', domain: 'electrical', about: 'ground terminal' },
  ],
  ratings: {
    power: { dimension: 'power', about: 'at its rated voltage', default: '24 W +- 10 %' },
    voltage: { dimension: 'voltage', about: 'rated, where it takes its power', default: '12 V' },
  },
  build(part, make) {
    const whole = resistance(part) * (1 - (part.fault('partly_shorted') ?? 0)) + (part.fault('high_resistance') ?? 0)
    make.conductance('load', make.port('feed'), make.port('ground'), part.fault('open') ? GAP : 1 / whole)
  },
  modes: [
    { id: 'open', title: 'open', share: 0.6, repair: 'replace' },
    {
      id: 'high_resistance',
      title: 'bad contact inside',
      share: 0.3,
      severity: (part) => beyondJoint(resistance(part) / 40),
      repair: 'replace',
    },
    {
      id: 'partly_shorted',
      title: 'partly shorted',
      share: 0.1,
      severity: { dimension: 'fraction', scale: 'linear', nodes: [0.3, 0.5, 0.7, 0.9] },
      repair: 'replace',
    },
  ],
  repairs: { replace: { title: 'replace the load', minutes: 20, price: 40, disturbs: true } },
  looks: [
    {
      name: 'work',
      about: 'what the load does, by its share of the rated current',
      words: ['dead', 'weak', 'normal'],
      // Below a tenth nobody notices that it works; a quarter less than usual is not sure to be noticed. An assumption.
      levels: [
        [0.03, 0.1],
        [0.6, 0.8],
      ],
      quantity: (part) => ({ probe: { through: 'load' }, scale: part.value('voltage') / part.value('power'), absolute: true }),
      by: 'operator',
      minutes: 0.5,
    },
  ],
  isolated: [{ title: 'resistance of the load', red: 'feed', black: 'ground', minutes: 4 }],
  load: { feed: 'feed', ground: 'ground' },
  unplugs: true,
  swaps: true,
}
