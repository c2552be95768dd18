import { STANDARD_ATMOSPHERE } from '@halfsplit/core'
import { type Law, REFERENCE, REFERENCE_DENSITY } from '@halfsplit/network'
import type { Kind, PartView } from '../kind.js'
import { leakSeverity } from '../severity.js'
import { airHazard, hissLook, orifice } from './orifice.js'
import { turning } from '../present.js'

/** Pressure above the open air at which a piston compressor moves nothing any more, and over which its delivery fades [Pa]. Assumptions. */
const MOST = 13e5
const FADES = 1e5

/** Free air at the rated speed [kg/s], less what its faults lose. */
function delivered(part: PartView): number {
  if (part.fault('drive_or_coupling_broken')) return 0
  const lost = part.fault('worn_internal_leakage') ?? part.fault('starved_or_drawing_air') ?? 0
  return part.value('delivery') * REFERENCE_DENSITY * Math.max(0, 1 - lost)
}

const delivery = (flow: number): Law => ({ law: 'delivery', flow, most: MOST, band: FADES })

/** Minutes and prices of the repairs are assumptions of the invented depot. */
export const compressor: Kind = {
  name: 'compressor',
  title: 'air compressor',
  letter: 'G',
  symbol: 'air compressor',
  about: 'Piston compressor driven by the engine: moves free air by its speed, and none while its unloader has pressure.',
  // Of "pump" what a compressor shares with one: worn, starved, drive; of "air governor and dryer" the unloader.
  incidence: 2 * 0.62 + 2 * 0.2,
  ports: [
    { name: 'discharge', domain: 'gas', about: 'delivery line' },
    { name: 'unloader', domain: 'gas', about: 'line from the governor' },
  ],
  ratings: {
    delivery: { dimension: 'volumeFlow', about: 'free air at its rated speed', default: '160 l/min +- 8 %' },
    speed: { dimension: 'angularSpeed', about: 'rated, of the engine', default: '1000 rpm' },
    unloads: { dimension: 'absolutePressure', about: 'at the unloader, coming up', default: '3.5 bar +- 0.5 bar' },
    loads: { dimension: 'absolutePressure', about: 'at the unloader, going down', default: '2 bar +- 0.5 bar' },
  },
  settings: { speed: { about: 'of the engine that drives it', dimension: 'angularSpeed', default: '0 rpm' } },
  build(part, make) {
    const drive = make.inner('drive', 'rotation')
    make.add({ type: 'across', id: 'drive', a: drive, b: REFERENCE, value: part.imposed('speed'), resistance: 0 })
    const unloader = make.port('unloader')
    const gauge = (rating: string) => part.value(rating) - STANDARD_ATMOSPHERE
    const unloaded = make.threshold('unloaded', unloader, make.air, 1, gauge('unloads'), gauge('loads'))
    const flow = delivered(part)
    make.add({
      type: 'gate',
      id: 'delivery',
      a: make.air,
      b: make.port('discharge'),
      on: delivery(part.fault('unloader_stuck_loaded') ? flow : 0),
      off: delivery(part.fault('unloader_stuck_unloaded') ? 0 : flow),
      signal: unloaded,
      gains: [{ of: 'flow', node: drive, curve: { curve: 'power', reference: part.value('speed'), exponent: 1 } }],
    })
    make.law('leak', unloader, make.air, orifice(part.fault('unloader_leaks') ?? 0))
    make.signal('clogged', (id) => ({ type: 'imposed', id, value: part.fault('starved_or_drawing_air') !== undefined }))
  },
  modes: [
    {
      id: 'worn_internal_leakage',
      title: 'worn, delivers little',
      share: 0.3,
      // Share of its delivery that is lost, here and below.
      severity: { dimension: 'fraction', scale: 'linear', nodes: [0.35, 0.5, 0.7, 0.9] },
      repair: 'overhaul',
    },
    {
      id: 'starved_or_drawing_air',
      title: 'intake blocked',
      share: 0.22,
      severity: { dimension: 'fraction', scale: 'linear', nodes: [0.35, 0.5, 0.7, 0.9] },
      repair: 'intake',
    },
    { id: 'drive_or_coupling_broken', title: 'belt or coupling broken', share: 0.1, repair: 'drive' },
    { id: 'unloader_leaks', title: 'unloader leaks', share: 0.1, severity: leakSeverity(4e-10, 4e-9), repair: 'unloader' },
    { id: 'unloader_stuck_loaded', title: 'unloader stuck, never unloads', share: 0.05, repair: 'unloader' },
    { id: 'unloader_stuck_unloaded', title: 'unloader stuck, never loads', share: 0.05, repair: 'unloader' },
  ],
  repairs: {
    overhaul: { title: 'overhaul the compressor: rings, valves', minutes: 240, price: 350 },
    intake: { title: 'clear the intake and renew its filter', minutes: 20, price: 15 },
    drive: { title: 'renew the belt or coupling of the compressor', minutes: 45, price: 40 },
    unloader: { title: 'overhaul the unloader', minutes: 90, price: 70 },
  },
  looks: [
    {
      name: 'work',
      about: 'compressor heard and felt at its head with the engine running',
      words: ['does not pump', 'pumps'],
      // Share of its rated delivery: an assumption.
      levels: [[0.02, 0.08]],
      quantity: (part) => ({
        probe: { through: 'delivery' },
        scale: 1 / (part.value('delivery') * REFERENCE_DENSITY),
        absolute: true,
      }),
      by: 'operator',
      minutes: 1,
      becomes: ['stops pumping', 'pumps'],
    },
    {
      name: 'intake',
      about: 'filter of the intake, held to the light',
      words: ['clear', 'blocked'],
      levels: [[0.4, 0.6]],
      quantity: () => ({ signal: 'clogged' }),
      by: 'technician',
      minutes: 5,
    },
    hissLook('leak', 'air at the unloader, at the head of the compressor', 'leak'),
  ],
  says: () => ({ unloaded: { on: 'unloads', off: 'loads' } }),
  hazards: [
    airHazard('discharge', 'unloader'),
    {
      title: 'starts by itself',
      caution: 'Keep hands and clothes off belt and pulley while the engine runs.',
      present: turning('drive'),
    },
    { title: 'hot', caution: 'Keep off its head and delivery pipe until they are cool.', present: turning('drive') },
  ],
}
