import type { Kind } from '../kind.js'
import { beyondJoint } from '../severity.js'
import { brokenFilament, filamentLaw, lightLook } from './filament.js'
import { lit } from '../present.js'

/** Minutes and prices of the repairs are assumptions of the invented depot. */
export const lamp: Kind = {
  name: 'lamp',
  title: 'lamp',
  letter: 'P',
  symbol: 'lamp',
  about: 'Filament lamp with its holder. Hot it has at least twelve times its cold resistance.',
  // Without: filament shorted to its neighbour, which takes a twin lamp.
  incidence: 4 * 0.95,
  ports: [
    { name: 'feed', domain: 'electrical', about: 'feed contact of the holder' },
    { name: 'ground', domain: 'electrical', about: 'shell of the holder' },
  ],
  ratings: {
    power: { dimension: 'power', about: 'at the rated voltage', default: '21 W +- 6 %' },
    voltage: { dimension: 'voltage', about: 'rated, where it takes its power', default: '13.5 V' },
    holder: { dimension: 'resistance', about: 'contacts of the holder', default: '20 mOhm', spread: 'factor' },
  },
  build(part, make) {
    const contact = make.inner('contact', 'electrical')
    const holder = part.value('holder') + (part.fault('holder_contact') ?? 0)
    make.conductance('holder', make.port('feed'), contact, 1 / holder)
    const volts = part.value('voltage')
    const intact = filamentLaw(part.value('power') * (part.fault('wrong_lamp') ?? 1), volts)
    make.law('filament', contact, make.port('ground'), part.fault('filament_open') ? brokenFilament(volts) : intact)
  },
  modes: [
    { id: 'filament_open', title: 'burnt out', share: 0.62, repair: 'replace' },
    {
      id: 'holder_contact',
      title: 'bad contact in the holder',
      share: 0.26,
      severity: (part) => beyondJoint(part.value('holder')),
      repair: 'holder',
    },
    {
      id: 'wrong_lamp',
      title: 'lamp of another wattage',
      share: 0.07,
      byHand: true,
      // Its power over that of the right one: 5 W for 21 W and the like.
      severity: { dimension: 'fraction', scale: 'linear', nodes: [0.24, 0.5, 2, 4.2] },
      repair: 'replace',
    },
  ],
  repairs: {
    replace: { title: 'replace the lamp', minutes: 5, price: 3, disturbs: true },
    holder: { title: 'clean or renew the lamp holder', minutes: 15, price: 8, disturbs: true },
  },
  looks: [lightLook('light', 'the lamp as seen', 'contact', 'ground', (part) => !part.fault('filament_open'))],
  isolated: [{ title: 'filament, cold', red: 'feed', black: 'ground', minutes: 4 }],
  hazards: [{ title: 'hot', caution: 'Let it cool, or use a cloth.', present: lit('contact', 'ground') }],
  load: { feed: 'feed', ground: 'ground' },
  unplugs: true,
  swaps: true,
}
