import {
  addMagnet,
  coilModes,
  VALVE_CHOICES,
  VALVE_LOOKS,
  VALVE_PORTS,
  VALVE_RATINGS,
  VALVE_SETTINGS,
  valveWords,
} from '../electrical/solenoid.js'
import type { Builder, Kind, PartView } from '../kind.js'
import { scalding } from '../present.js'

/** Whether the coolant passes, with the coil dead and with it pulled in. */
function positions(part: PartView): { dead: boolean; pulled: boolean } {
  const open = (part.word('rest') === 'open') !== (part.fault('wrong_valve_or_ports_swapped') !== undefined)
  if (part.fault('sticks_at_rest')) return { dead: open, pulled: open }
  if (part.fault('sticks_operated')) return { dead: !open, pulled: !open }
  return { dead: open, pulled: !open }
}

/** The way of the coolant, there and back, as a conductance: the heat capacity rate of what may pass. */
function addPassage(part: PartView, make: Builder, pulled: string): void {
  const clear = part.value('flow') * (1 - (part.fault('filter_blocked') ?? 0))
  const seat = part.value('flow') * (part.fault('leaks_internally') ?? 0)
  const { dead, pulled: shifted } = positions(part)
  const g = (open: boolean) => (open ? Math.max(clear, seat) : seat)
  make.gate('passage', make.port('in'), make.port('out'), g(shifted), g(dead), pulled)
}

/** Minutes and prices of the repairs are assumptions of the invented depot. */
export const coolantValve: Kind = {
  name: 'coolant-valve',
  title: 'coolant valve',
  letter: 'Q',
  symbol: '2/2 valve, solenoid operated, spring return',
  about: 'Lets coolant to a heater, or not, by a coil. Most are open at rest: without current the heater heats.',
  incidence: 2,
  ports: [
    ...VALVE_PORTS.filter((port) => port.domain === 'electrical'),
    { name: 'in', domain: 'thermal', about: 'hose from the engine' },
    { name: 'out', domain: 'thermal', about: 'hose to the heater' },
  ],
  ratings: {
    coil: VALVE_RATINGS.coil,
    pull_in: VALVE_RATINGS.pull_in,
    drop_out: VALVE_RATINGS.drop_out,
    flow: {
      dimension: 'thermalConductance',
      about: 'heat capacity rate that passes, open: 0.4 l/s is 1.5 kW/K',
      default: '1.5 kW/K',
    },
  },
  choices: { ...VALVE_CHOICES, rest: { ...VALVE_CHOICES.rest, about: 'passage while the coil is dead', default: 'open' } },
  settings: VALVE_SETTINGS,
  build(part, make) {
    addPassage(part, make, addMagnet(part, make))
    make.signal('wet', (id) => ({ type: 'imposed', id, value: part.fault('leaks_externally') !== undefined }))
  },
  modes: [
    { id: 'sticks_at_rest', title: 'sticks, does not shift', share: 0.2, repair: 'replace' },
    { id: 'sticks_operated', title: 'sticks, does not go back', share: 0.1, repair: 'replace' },
    {
      id: 'leaks_internally',
      title: 'leaks past its seat',
      share: 0.24,
      // Share of its flow that still passes when it is shut.
      severity: { dimension: 'fraction', scale: 'linear', nodes: [0.03, 0.1, 0.3] },
      repair: 'replace',
    },
    { id: 'leaks_externally', title: 'leaks outside', share: 0.09, repair: 'replace' },
    {
      id: 'filter_blocked',
      title: 'passage blocked by scale',
      share: 0.09,
      severity: { dimension: 'fraction', scale: 'linear', nodes: [0.8, 0.9, 0.97, 1] },
      repair: 'replace',
    },
    ...coilModes(),
    {
      id: 'wrong_valve_or_ports_swapped',
      title: 'wrong valve: closed for open at rest',
      share: 0.02,
      byHand: true,
      repair: 'replace',
    },
  ],
  repairs: { replace: { title: 'replace the coolant valve, fill up and bleed', minutes: 50, price: 70, disturbs: true } },
  looks: [
    ...VALVE_LOOKS.filter((look) => look.name === 'click' || look.name === 'magnet'),
    {
      name: 'supply',
      about: 'hose before the valve, by touch or thermometer',
      words: ['cold', 'lukewarm', 'hot'],
      // A hand tells 30 from 35 degC, and 60 from 68. An assumption.
      levels: [
        [303, 308],
        [333, 341],
      ],
      quantity: () => ({ probe: { across: { in: 1 } }, scale: 1 }),
      by: 'technician',
      minutes: 1.5,
    },
    {
      name: 'delivery',
      about: 'hose behind the valve, by touch or thermometer',
      words: ['cold', 'lukewarm', 'hot'],
      levels: [
        [303, 308],
        [328, 335],
      ],
      quantity: () => ({ probe: { across: { out: 1 } }, scale: 1 }),
      by: 'technician',
      minutes: 1.5,
    },
    {
      name: 'weep',
      about: 'body and hose ends of the valve',
      words: ['dry', 'wet'],
      levels: [[0.4, 0.6]],
      quantity: () => ({ signal: 'wet' }),
      by: 'technician',
      minutes: 1.5,
    },
  ],
  says: valveWords,
  isolated: [{ title: 'coil resistance', red: 'coil_a', black: 'coil_b', polarity: true, minutes: 5 }],
  hazards: [
    {
      title: 'hot',
      harm: 'lasting',
      caution: 'Coolant scalds: let the engine cool and the pressure off before a hose comes off.',
      present: scalding('in'),
    },
  ],
  load: { feed: 'coil_a', ground: 'coil_b' },
  unplugs: true,
  swaps: true,
}
