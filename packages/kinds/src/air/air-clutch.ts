import { type Gain, REFERENCE } from '@halfsplit/network'
import type { Builder, Kind, PartView } from '../kind.js'
import { leakSeverity } from '../severity.js'
import { airHazard, hissLook, orifice } from './orifice.js'
import { airVolume } from './volume.js'
import { above } from '../present.js'

/** A rough bearing carries the fan along though the clutch is released: it leaves this share of the release. An assumption. */
const CARRIED = 0.5

/** Share of its hold with which it carries along what it drives, fully released: its bearing and the air between the plates. An assumption. */
const IDLES = 0.002

/**
 * Holds what it drives to its shaft with a torque that grows with the slip; air takes the hold away between its two pressures. What
 * shows at its shafts is the same as what `release` says.
 */
function addShafts(part: PartView, make: Builder): void {
  const [shaft, driven, air] = [make.port('shaft'), make.port('driven'), make.port('air')]
  const stretch = part.value('released') - part.value('applied')
  const from = part.value('applied') - (part.fault('lining_worn') ?? 0) * stretch
  const to = from + stretch / (part.fault('bearing') ? CARRIED : 1)
  const low = part.fault('sticks_released') ? IDLES : 1
  const high = part.fault('sticks_engaged') ? 1 : IDLES
  const g = part.value('torque') / part.value('slip')
  const gains: Gain[] = [{ of: 'g', node: air, curve: { curve: 'ramp', from, to, low, high } }]
  make.add({ type: 'law', id: 'grip', a: shaft, b: driven, law: { law: 'linear', g }, gains })
}

/**
 * How far the clutch is released: 0 at the pressure where it is fully applied, 1 where it is fully released, straight between and
 * beyond. The inner nodes `none` and `full` stand at these two pressures.
 */
function release(part: PartView): { probe: { across: Record<string, number> }; scale: number } {
  const scale = 1 / (part.value('released') - part.value('applied'))
  const constant = (value: number) => ({ probe: { across: { full: value, none: -value } }, scale })
  if (part.fault('sticks_engaged')) return constant(-1)
  if (part.fault('sticks_released')) return constant(2)
  const slip = part.fault('lining_worn') ?? 0
  const across = { air: 1, none: -1 - slip, full: slip }
  return { probe: { across }, scale: part.fault('bearing') ? CARRIED * scale : scale }
}

/** Released so far it carries nothing along that hurts. An assumption. */
const FREE = 0.9

const turned = ({ probe, scale }: ReturnType<typeof release>, by: number) => ({ probe, scale: by * scale })

/** Minutes and prices of the repairs are assumptions of the invented depot. */
export const airClutch: Kind = {
  name: 'air-clutch',
  title: 'air-released clutch',
  letter: 'Q',
  symbol: 'clutch, spring applied, air released',
  about: 'Springs apply it, air releases it; between the two pressures it drags.',
  // Without: heat fuse blown, which follows from slipping.
  incidence: 1.5 * 0.98,
  ports: [
    { name: 'air', domain: 'gas', about: 'rotary seal' },
    { name: 'shaft', domain: 'rotation', about: 'what drives it', accessible: false },
    { name: 'driven', domain: 'rotation', about: 'what it drives', accessible: false },
  ],
  ratings: {
    released: { dimension: 'absolutePressure', about: 'fully released from here up', default: '5 bar +- 0.2 bar' },
    applied: { dimension: 'absolutePressure', about: 'fully applied from here down', default: '2.5 bar +- 0.2 bar' },
    volume: { dimension: 'volume', about: 'behind its piston', default: '0.15 l' },
    torque: { dimension: 'torque', about: 'of what it drives, at its rated speed', default: '40 N.m' },
    slip: { dimension: 'angularSpeed', about: 'fully applied, at this torque', default: '20 rpm' },
  },
  build(part, make) {
    make.add(airVolume('volume', make.port('air'), part.value('volume')))
    addShafts(part, make)
    const hold = (id: string, value: number) =>
      make.add({ type: 'across', id, a: make.inner(id, 'gas'), b: REFERENCE, value, resistance: 0 })
    hold('none', part.value('applied'))
    hold('full', part.value('released'))
    make.law('leak', make.port('air'), make.air, orifice(part.fault('leaks') ?? 0))
    make.signal('rough', (id) => ({ type: 'imposed', id, value: part.fault('bearing') !== undefined }))
  },
  modes: [
    { id: 'leaks', title: 'leaks at its rotary seal or piston', share: 0.36, severity: leakSeverity(), repair: 'seal' },
    {
      id: 'lining_worn',
      title: 'lining worn, slips',
      share: 0.26,
      // How far it is released with no air in it, the healthy stretch from applied to released being 1.
      severity: { dimension: 'fraction', scale: 'linear', nodes: [1.2, 1.5, 1.8] },
      repair: 'reline',
    },
    { id: 'sticks_engaged', title: 'sticks engaged', share: 0.14, repair: 'overhaul' },
    { id: 'sticks_released', title: 'sticks released', share: 0.1, repair: 'overhaul' },
    { id: 'bearing', title: 'bearing rough', share: 0.12, repair: 'bearing' },
  ],
  repairs: {
    seal: { title: 'renew the seals of the clutch', minutes: 120, price: 65 },
    reline: { title: 'renew the lining of the clutch', minutes: 150, price: 140 },
    overhaul: { title: 'free or replace the clutch', minutes: 150, price: 320 },
    bearing: { title: 'renew the bearing of the clutch', minutes: 150, price: 80 },
  },
  looks: [
    {
      name: 'drive',
      about: 'what it drives, seen or turned by hand',
      words: ['driven', 'drags', 'released'],
      // Where the lining begins to slip and where it is free differ by a tenth of the stretch from one look to the next. An assumption.
      levels: [
        [-0.05, 0.05],
        [0.9, 1],
      ],
      quantity: release,
      by: 'operator',
      minutes: 1,
      becomes: ['is applied', 'drags', 'is released'],
    },
    {
      name: 'noise',
      about: 'bearing, turned by hand or heard',
      words: ['quiet', 'rough'],
      levels: [[0.4, 0.6]],
      quantity: () => ({ signal: 'rough' }),
      by: 'technician',
      minutes: 3,
    },
    hissLook('leak', 'air at the rotary seal', 'leak'),
  ],
  hazards: [
    airHazard('air'),
    {
      title: 'drives',
      caution: 'Stop the engine before a hand goes near.',
      present: above(-FREE, (part) => turned(release(part), -1)),
    },
  ],
}
