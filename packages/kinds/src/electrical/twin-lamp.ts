import { DEAD_SHORT } from '../insulation.js'
import type { Kind, PartView } from '../kind.js'
import { beyondJoint } from '../severity.js'
import { brokenFilament, filamentLaw, lightLook } from './filament.js'
import { lit } from '../present.js'

/** Powers of the two filaments; in a lamp turned round the tail feed meets the stop filament. */
function powers(part: PartView): { tail: number; stop: number } {
  const [tail, stop] = [part.value('tail_power'), part.value('stop_power')]
  return part.fault('wrong_lamp') ? { tail: stop, stop: tail } : { tail, stop }
}

/** Minutes and prices of the repairs are assumptions of the invented depot. */
export const twinLamp: Kind = {
  name: 'twin-lamp',
  title: 'tail and stop lamp',
  letter: 'P',
  symbol: 'lamp with two filaments',
  about: 'Two filaments in one bulb with a common shell: tail and stop.',
  incidence: 4,
  ports: [
    { name: 'tail', domain: 'electrical', about: 'feed of the small filament' },
    { name: 'stop', domain: 'electrical', about: 'feed of the large filament' },
    { name: 'ground', domain: 'electrical', about: 'shell of the holder' },
  ],
  ratings: {
    tail_power: { dimension: 'power', about: 'of the tail filament at the rated voltage', default: '5 W +- 6 %' },
    stop_power: { dimension: 'power', about: 'of the stop filament at the rated voltage', default: '21 W +- 6 %' },
    voltage: { dimension: 'voltage', about: 'rated, where the filaments take their power', default: '13.5 V' },
    holder: { dimension: 'resistance', about: 'shell in its holder', default: '20 mOhm', spread: 'factor' },
  },
  build(part, make) {
    const shell = make.inner('shell', 'electrical')
    const volts = part.value('voltage')
    const { tail, stop } = powers(part)
    const law = (power: number, open: number | undefined) => (open ? brokenFilament(volts) : filamentLaw(power, volts))
    make.law('tail_filament', make.port('tail'), shell, law(tail, part.fault('tail_filament_open')))
    make.law('stop_filament', make.port('stop'), shell, law(stop, part.fault('stop_filament_open')))
    const touch = part.fault('filament_shorted_to_its_neighbour') ? DEAD_SHORT : 0
    make.conductance('touch', make.port('tail'), make.port('stop'), touch)
    const holder = part.value('holder') + (part.fault('holder_contact') ?? 0)
    make.conductance('holder', shell, make.port('ground'), 1 / holder)
  },
  modes: [
    { id: 'tail_filament_open', title: 'tail filament burnt out', share: 0.31, repair: 'replace' },
    { id: 'stop_filament_open', title: 'stop filament burnt out', share: 0.31, repair: 'replace' },
    {
      id: 'holder_contact',
      title: 'bad contact in the holder',
      share: 0.26,
      severity: (part) => beyondJoint(part.value('holder')),
      repair: 'holder',
    },
    { id: 'wrong_lamp', title: 'twin lamp turned round', share: 0.07, byHand: true, repair: 'replace' },
    {
      id: 'filament_shorted_to_its_neighbour',
      title: 'filaments touch',
      share: 0.05,
      repair: 'replace',
    },
  ],
  repairs: {
    replace: { title: 'replace the lamp', minutes: 5, price: 4, disturbs: true },
    holder: { title: 'clean or renew the lamp holder', minutes: 15, price: 8, disturbs: true },
  },
  looks: [
    lightLook('tail_light', 'tail lamp as seen', 'tail', 'shell', (part) => !part.fault('tail_filament_open')),
    lightLook('stop_light', 'stop lamp as seen', 'stop', 'shell', (part) => !part.fault('stop_filament_open')),
  ],
  isolated: [
    { title: 'tail filament, cold', red: 'tail', black: 'ground', minutes: 4 },
    { title: 'stop filament, cold', red: 'stop', black: 'ground', minutes: 4 },
  ],
  hazards: [
    {
      title: 'hot',
      caution: 'Let it cool, or use a cloth.',
      present: (part) => [...lit('tail', 'shell')(part), ...lit('stop', 'shell')(part)],
    },
  ],
  load: { feed: 'stop', ground: 'ground' },
  unplugs: true,
  swaps: true,
}
