import type { Kind } from '../kind.js'
import { beyondJoint } from '../severity.js'
import { addMachine, machineModes, turningLook } from './machine.js'
import { turning } from '../present.js'

/** Rotor to what is on its shaft [N.m.s/rad]: it slips by nothing worth naming. */
const STIFF = 1e3

/** Minutes and prices of the repairs are assumptions of the invented depot. */
export const motor: Kind = {
  name: 'motor',
  title: 'motor',
  letter: 'M',
  symbol: 'direct-current motor',
  about: 'Small direct-current motor with what it turns: blower, wiper, pump.',
  incidence: 1.5,
  ports: [
    { name: 'feed', domain: 'electrical', about: 'feed terminal' },
    { name: 'ground', domain: 'electrical', about: 'ground terminal' },
    { name: 'drive', domain: 'rotation', about: 'its shaft, for what it turns besides its usual load', accessible: false },
  ],
  ratings: {
    voltage: { dimension: 'voltage', about: 'at its terminals', default: '12 V' },
    current: { dimension: 'current', about: 'it takes with its usual load', default: '6 A +- 15 %' },
    speed: { dimension: 'angularSpeed', about: 'with its usual load', default: '2800 rpm' },
    winding: { dimension: 'resistance', about: 'winding and brushes', default: '0.4 Ohm +- 15 %' },
    leads: { dimension: 'resistance', about: 'its own leads and terminals', default: '10 mOhm', spread: 'factor' },
  },
  build(part, make) {
    const leads = make.inner('leads', 'electrical')
    const added = part.fault('high_resistance_in_its_leads') ?? 0
    make.conductance('leads', make.port('feed'), leads, 1 / (part.value('leads') + added))
    const shaft = addMachine(part, make, leads, make.port('ground'), {
      voltage: part.value('voltage'),
      current: part.value('current'),
      speed: part.value('speed'),
      winding: part.value('winding'),
    })
    make.conductance('drive', shaft, make.port('drive'), part.fault('drive_part') ? 0 : STIFF)
  },
  modes: [
    ...machineModes(1, (part) => part.value('winding')),
    {
      id: 'high_resistance_in_its_leads',
      title: 'bad contact in its own leads',
      share: 0.18,
      severity: (part) => beyondJoint(part.value('leads')),
      repair: 'leads',
    },
    { id: 'drive_part', title: 'drive broken, spins without effect', share: 0.06, repair: 'replace' },
  ],
  repairs: {
    overhaul: { title: 'overhaul the motor: brushes, bearings', minutes: 60, price: 25 },
    replace: { title: 'replace the motor', minutes: 40, price: 120, disturbs: true },
    leads: { title: 'renew the leads and terminals of the motor', minutes: 20, price: 5, disturbs: true },
  },
  looks: [turningLook('turns', 'what it drives, seen or heard', ['no', 'slow', 'normal'])],
  isolated: [{ title: 'resistance of the motor', red: 'feed', black: 'ground', minutes: 5 }],
  hazards: [
    {
      title: 'starts by itself',
      harm: 'passing',
      caution: 'Keep hands out while it can get a feed.',
      present: turning('shaft'),
    },
  ],
  load: { feed: 'feed', ground: 'ground' },
  unplugs: true,
  swaps: true,
}
