import { REFERENCE } from '@halfsplit/network'
import type { Kind, Look, PartView } from '../kind.js'
import { leakSeverity } from '../severity.js'
import { airHazard, hissLook, orifice } from './orifice.js'
import { airVolume } from './volume.js'

/** Share of its travel that is left to a rod that binds; an assumption. */
const BOUND = 0.3

/**
 * How far the rod is out: 0 at the pressure where it begins to move, 1 where it is all the way. A spring brake moves the other way: its
 * rod is out with no air in it. The inner nodes `begins` and `ends` stand at these two pressures.
 */
function travel(part: PartView): ReturnType<Look['quantity']> {
  const spring = part.word('acts') === 'by_spring'
  if (part.fault('mechanical_end')) return { probe: { across: { begins: 0 } }, scale: 0 }
  const range = part.value('ends') - part.value('begins')
  const scale = (part.fault('binds') ? BOUND : 1) / range
  return { probe: { across: spring ? { ends: 1, air: -1 } : { air: 1, begins: -1 } }, scale }
}

/** Minutes and prices of the repairs are assumptions of the invented depot. */
export const brakeChamber: Kind = {
  name: 'brake-chamber',
  title: 'brake chamber or air cylinder',
  letter: 'M',
  symbol: 'single-acting cylinder, spring return',
  about:
    'Diaphragm or piston with a rod: air pushes it out against a spring, or, as a spring brake, air holds the spring back. For finding faults only: it proves nothing about the brakes.',
  // Of "cylinder", without: air in oil.
  incidence: 0.94,
  ports: [{ name: 'air', domain: 'gas', about: 'its port' }],
  ratings: {
    volume: { dimension: 'volume', about: 'with the rod all the way', default: '1 l' },
    begins: { dimension: 'absolutePressure', about: 'the rod begins to move', default: '0.3 bar +- 0.1 bar' },
    ends: { dimension: 'absolutePressure', about: 'the rod is at its end', default: '2 bar +- 0.3 bar' },
  },
  choices: { acts: { about: 'what pushes the rod out', words: ['by_air', 'by_spring'], default: 'by_air' } },
  build(part, make) {
    const hold = (id: string, value: number) =>
      make.add({ type: 'across', id, a: make.inner(id, 'gas'), b: REFERENCE, value, resistance: 0 })
    hold('begins', part.value('begins'))
    hold('ends', part.value('ends'))
    const air = make.port('air')
    make.add(airVolume('volume', air, part.value('volume')))
    make.law('piston', air, make.air, orifice(part.fault('leaks_past_piston') ?? 0))
    make.law('leak', air, make.air, orifice(part.fault('leaks_outside') ?? 0))
  },
  modes: [
    { id: 'leaks_past_piston', title: 'diaphragm or piston leaks', share: 0.34, severity: leakSeverity(), repair: 'seals' },
    { id: 'leaks_outside', title: 'leaks at its clamp or port', share: 0.34, severity: leakSeverity(), repair: 'seals' },
    { id: 'binds', title: 'binds', share: 0.22, repair: 'free' },
    { id: 'mechanical_end', title: 'pin or clevis broken', share: 0.04, repair: 'pin' },
  ],
  repairs: {
    seals: { title: 'renew the diaphragm, or replace the chamber', minutes: 60, price: 55 },
    free: { title: 'free and grease rod and linkage', minutes: 45, price: 5 },
    pin: { title: 'renew the pin', minutes: 30, price: 10 },
  },
  looks: [
    {
      name: 'rod',
      about: 'rod of the chamber, seen from below',
      words: ['in', 'part way', 'out'],
      levels: [
        [0.05, 0.15],
        [0.8, 0.95],
      ],
      quantity: travel,
      by: 'technician',
      minutes: 3,
      becomes: ['goes in', 'stands part way', 'goes out'],
    },
    hissLook('breather', 'air at the breather of the chamber', 'piston'),
    hissLook('leak', 'air at clamp and port of the chamber', 'leak'),
  ],
  hazards: [
    airHazard('air'),
    {
      title: 'springs',
      caution:
        'Never open a spring brake: its spring is caged by the maker’s tool only. Chock the wheels before its air is let out or in.',
    },
  ],
}
