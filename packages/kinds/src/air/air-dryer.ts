import { STANDARD_ATMOSPHERE } from '@halfsplit/core'
import { REFERENCE } from '@halfsplit/network'
import { GAP } from '../insulation.js'
import type { Builder, Kind, PartView } from '../kind.js'
import { leakSeverity } from '../severity.js'
import { airHazard, hissLook, orifice } from './orifice.js'
import { airVolume } from './volume.js'
import { above, live } from '../present.js'

/** Heat that two kilograms of aluminium hold [J/K] and lose to the wind [W/K]: assumptions. */
const HEAT_CAPACITY = 1800
const HEAT_LOSS = 2.5

/** Body temperatures at which the wet purge valve freezes and is free again [K]; an assumption. */
const FREEZES = 272.15
const THAWS = 275.15

/** Share of its rated voltage at which the heater still keeps the valve free, and below which it does not. Assumptions. */
const KEEPS_FREE = 0.6
const TOO_WEAK = 0.5

/** Share of its volume that lies before the desiccant [1]; an assumption. */
const SUMP = 0.2

/** Heater and thermostat between feed and ground, and the body they warm. @returns the signal that says the purge valve has frozen */
function addHeater(part: PartView, make: Builder): string {
  const [feed, ground] = [make.port('feed'), make.port('ground')]
  const [element, body, around] = [
    make.inner('element', 'electrical'),
    make.inner('body', 'thermal'),
    make.inner('around', 'thermal'),
  ]
  const temperature = part.imposed('temperature')
  const charge = { charge: 'linear', capacity: HEAT_CAPACITY } as const
  make.add({ type: 'store', id: 'body', a: body, b: REFERENCE, charge, holds: temperature })
  make.add({ type: 'across', id: 'around', a: around, b: REFERENCE, value: temperature, resistance: 0 })
  make.conductance('wind', body, around, HEAT_LOSS)
  // Its input is the cold: it rises as the body's temperature falls.
  const cold = make.threshold('cold', body, REFERENCE, -1, -part.value('heats_below'), -part.value('rests_above'))
  const contact = part.fault('thermostat_stays_open') ? GAP : 1 / part.value('contact')
  make.gate('thermostat', feed, element, contact, GAP, cold)
  const open = part.fault('heater_open') !== undefined
  make.conductance('heater', element, ground, open ? GAP : 1 / part.value('heater'))
  make.add({ type: 'heat', id: 'warmth', of: `${part.name}:heater`, node: body })
  const volts = part.value('voltage')
  const heated = make.threshold('heated', element, ground, open ? 0 : 1, KEEPS_FREE * volts, TOO_WEAK * volts)
  const frozen = make.threshold('frozen', body, REFERENCE, -1, -FREEZES, -THAWS)
  const unheated = make.signal('unheated', (id) => ({ type: 'not', id, of: heated }))
  return make.signal('iced', (id) => ({ type: 'and', id, of: [frozen, unheated] }))
}

/** @returns the signal that says the purge valve is open: by air from the governor, by ice, or stuck so */
function addPurgeSignal(part: PartView, make: Builder, iced: string): string {
  const gauge = (rating: string) => part.value(rating) - STANDARD_ATMOSPHERE
  const purging = make.threshold('purging', make.port('control'), make.air, 1, gauge('opens'), gauge('shuts'))
  const stuck = make.signal('stuck_open', (id) => ({
    type: 'imposed',
    id,
    value: part.fault('purge_valve_stuck_open') !== undefined,
  }))
  const free = make.signal('moves', (id) => ({ type: 'imposed', id, value: part.fault('purge_valve_stuck_shut') === undefined }))
  const asked = make.signal('asked', (id) => ({ type: 'or', id, of: [purging, iced, stuck] }))
  return make.signal('open', (id) => ({ type: 'and', id, of: [asked, free] }))
}

/** Minutes and prices of the repairs are assumptions of the invented depot. */
export const airDryer: Kind = {
  name: 'air-dryer',
  title: 'air dryer',
  letter: 'V',
  symbol: 'air dryer with drain, heated',
  about:
    'Desiccant dryer with a purge valve that opens while the governor sends air, and a heater with thermostat that keeps the valve from freezing. No check valve inside.',
  // Of "air governor and dryer": purge valve, desiccant and heater.
  incidence: 2 * 0.47,
  ports: [
    { name: 'in', domain: 'gas', about: 'from the compressor' },
    { name: 'out', domain: 'gas', about: 'to the check valve' },
    { name: 'control', domain: 'gas', about: 'line from the governor' },
    { name: 'feed', domain: 'electrical', about: 'heater, feed side' },
    { name: 'ground', domain: 'electrical', about: 'heater, ground side' },
  ],
  ratings: {
    heater: { dimension: 'resistance', about: 'heater', default: '5.8 Ohm +- 8 %' },
    voltage: { dimension: 'voltage', about: 'rated, of the heater', default: '24 V' },
    contact: { dimension: 'resistance', about: 'closed contact of the thermostat', default: '20 mOhm', spread: 'factor' },
    heats_below: { dimension: 'temperature', about: 'thermostat closes, getting colder', default: '7 degC +- 3 K' },
    rests_above: { dimension: 'temperature', about: 'thermostat opens, getting warmer', default: '25 degC +- 3 K' },
    opens: { dimension: 'absolutePressure', about: 'of the control line, purge valve opens', default: '3 bar +- 0.5 bar' },
    shuts: { dimension: 'absolutePressure', about: 'of the control line, purge valve shuts', default: '1.5 bar +- 0.5 bar' },
    passage: { dimension: 'sonicConductance', about: 'through the desiccant', default: '3 l/(s.bar)' },
    purge: { dimension: 'sonicConductance', about: 'open purge valve', default: '0.7 l/(s.bar)' },
    volume: { dimension: 'volume', about: 'of air that a purge lets out', default: '1.5 l' },
  },
  settings: { temperature: { about: 'of its body and the air around', dimension: 'temperature', default: '20 degC' } },
  build(part, make) {
    const open = addPurgeSignal(part, make, addHeater(part, make))
    const [inlet, outlet] = [make.port('in'), make.port('out')]
    make.add(airVolume('sump', inlet, SUMP * part.value('volume')))
    make.add(airVolume('volume', outlet, (1 - SUMP) * part.value('volume')))
    make.law('desiccant', inlet, outlet, orifice(part.value('passage')))
    const leak = part.fault('purge_valve_leaks') ?? 0
    make.gate('purge', inlet, make.air, orifice(part.value('purge')), orifice(leak), open)
    make.signal('wet', (id) => ({ type: 'imposed', id, value: part.fault('desiccant_spent') !== undefined }))
  },
  modes: [
    { id: 'purge_valve_leaks', title: 'purge valve leaks', share: 0.18, severity: leakSeverity(4e-10, 7e-9), repair: 'valve' },
    { id: 'purge_valve_stuck_open', title: 'purge valve stuck open', share: 0.07, repair: 'valve' },
    { id: 'purge_valve_stuck_shut', title: 'purge valve stuck shut, never purges', share: 0.05, repair: 'valve' },
    { id: 'desiccant_spent', title: 'desiccant spent', share: 0.08, repair: 'desiccant' },
    { id: 'heater_open', title: 'heater open', share: 0.06, repair: 'heater' },
    { id: 'thermostat_stays_open', title: 'thermostat of the heater stays open', share: 0.03, repair: 'heater' },
  ],
  repairs: {
    valve: { title: 'overhaul the purge valve of the dryer', minutes: 60, price: 60 },
    desiccant: { title: 'renew the desiccant cartridge', minutes: 25, price: 55 },
    heater: { title: 'renew heater and thermostat of the dryer', minutes: 45, price: 45, disturbs: true },
  },
  looks: [
    {
      name: 'purge',
      about: 'purge valve of the dryer, heard when the governor cuts out and felt after',
      words: ['shut', 'open'],
      levels: [[0.4, 0.6]],
      quantity: () => ({ signal: 'open' }),
      by: 'operator',
      minutes: 1,
      becomes: ['shuts', 'purges'],
    },
    hissLook('blow', 'air blowing steadily from the purge valve', 'purge'),
    {
      name: 'drain',
      about: 'what comes out of the drain of the first tank',
      words: ['dry air', 'water'],
      levels: [[0.4, 0.6]],
      quantity: () => ({ signal: 'wet' }),
      by: 'operator',
      minutes: 2,
    },
  ],
  says: () => ({ open: { on: 'purges', off: 'shuts its purge valve' }, iced: { on: 'freezes', off: 'thaws' } }),
  isolated: [{ title: 'heater with its thermostat', red: 'feed', black: 'ground', minutes: 5 }],
  hazards: [
    airHazard('in', 'out'),
    {
      title: 'blows',
      caution: 'It purges without warning, with grit: keep face and hands away from its outlet.',
      // The moment its valve opens; at rest after that little is left to blow.
      present: above(0.5, () => ({ signal: 'open' })),
    },
    { title: 'hot', caution: 'Let its heater cool.', present: live('feed', 'ground') },
  ],
  load: { feed: 'feed', ground: 'ground' },
  unplugs: true,
}
