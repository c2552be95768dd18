import { type Law, REFERENCE } from '@halfsplit/network'
import type { Builder, Kind, PartView } from '../kind.js'
import { turning } from '../present.js'

/** What a clutch between its two pressures holds, and what its bearing carries along when it is released, over its full hold. Assumptions. */
const DRAGS = 0.02
const BEARING = 0.006

/** A clutch goes back to what it was so much below its pressures [Pa]: seals stick. An assumption. */
const STICKING = 0.1e5

/** Of blades and hub [kg.m2]; an assumption. */
const INERTIA = 0.3

/** Share of its hold that a slipping belt or a loose hub leaves. */
const holdLeft = (part: PartView): number => (part.fault('hub_loose') ? 0 : 1 - (part.fault('belt_slips') ?? 0))

/** Holds the blades to the shaft with a torque that grows with the slip, as belts and viscous clutches do; air at `clutch` takes it away. */
function addClutch(part: PartView, make: Builder, blades: string): void {
  const [shaft, air] = [make.port('shaft'), make.port('clutch')]
  const hold = (holdLeft(part) * part.value('torque')) / part.value('slip')
  const above = (name: string, pressure: number) => make.threshold(name, air, REFERENCE, 1, pressure, pressure - STICKING)
  make.gate('grip', shaft, blades, 0, hold, above('slack', part.value('applied')))
  make.gate('drag', shaft, blades, 0, DRAGS * hold, above('free', part.value('released')))
  make.conductance('bearing', shaft, blades, BEARING * hold)
}

/** Torque of the blades over k w sqrt(w^2 + rated^2): as the square of fast speeds, and as slow ones where the air is not yet torn off. */
function airDrag(part: PartView): Law {
  const rated = part.value('speed')
  return { law: 'fan', k: part.value('torque') / (Math.SQRT2 * rated ** 2), laminar: rated }
}

/**
 * Blades with their drive. In the air of a moving machine they turn by themselves at the speed at which that air passes them; what they
 * take from the shaft goes with the square of what they turn beyond it.
 * The table has no rows for a fan: modes and incidence are an assumption.
 * Minutes and prices of the repairs are assumptions of the invented depot.
 */
export const fan: Kind = {
  name: 'fan',
  title: 'fan with its drive',
  letter: 'G',
  symbol: 'fan',
  about:
    'Fan of a radiator on a belt, with or without a clutch that springs apply and air releases: with nothing at `clutch` it is driven.',
  incidence: 1,
  ports: [
    { name: 'shaft', domain: 'rotation', about: 'pulley that drives it', accessible: false },
    { name: 'blades', domain: 'rotation', about: 'what draws air through the radiator', accessible: false },
    { name: 'clutch', domain: 'gas', about: 'air that releases its clutch', accessible: false },
  ],
  ratings: {
    torque: { dimension: 'torque', about: 'of the blades at their rated speed', default: '40 N.m +- 10 %' },
    speed: { dimension: 'angularSpeed', about: 'rated', default: '2000 rpm' },
    pitch: {
      dimension: 'length',
      about: 'what a moving machine goes while its air turns the free blades once',
      default: '0.6 m',
    },
    slip: { dimension: 'angularSpeed', about: 'of its drive at this torque', default: '60 rpm +- 20 %' },
    released: { dimension: 'absolutePressure', about: 'clutch fully released from here up', default: '5 bar' },
    applied: { dimension: 'absolutePressure', about: 'clutch fully applied from here down', default: '2.5 bar' },
  },
  settings: { machine_speed: { about: 'of the machine through the air', dimension: 'speed', default: '0 m/s' } },
  build(part, make) {
    const blades = make.port('blades')
    const slip = make.inner('slip', 'rotation')
    const turned = (2 * Math.PI * part.imposed('machine_speed')) / part.value('pitch')
    make.add({ type: 'across', id: 'ram', a: blades, b: slip, value: turned, resistance: 0 })
    addClutch(part, make, blades)
    make.law('air', slip, REFERENCE, airDrag(part))
    make.add({ type: 'store', id: 'inertia', a: blades, b: REFERENCE, charge: { charge: 'linear', capacity: INERTIA } })
  },
  modes: [
    {
      id: 'belt_slips',
      title: 'belt slips',
      share: 0.7,
      // Share of its hold that is lost: of 2000 rpm these leave it about 1600, 1200 and 700.
      severity: { dimension: 'fraction', scale: 'linear', nodes: [0.9, 0.97, 0.993] },
      repair: 'belt',
    },
    { id: 'hub_loose', title: 'hub or coupling loose, is not driven', share: 0.3, repair: 'hub' },
  ],
  repairs: {
    belt: { title: 'replace and tighten the belt of the fan', minutes: 40, price: 35 },
    hub: { title: 'overhaul the hub of the fan', minutes: 120, price: 110 },
  },
  looks: [
    {
      name: 'turns',
      about: 'fan seen from the side, its speed against that of its pulley',
      words: ['stands or idles', 'slips', 'goes with the pulley'],
      // Share of its rated speed. An assumption.
      levels: [
        [0.28, 0.34],
        [0.55, 0.65],
      ],
      quantity: (part) => ({ probe: { across: { blades: 1 } }, scale: 1 / part.value('speed'), absolute: true }),
      by: 'technician',
      minutes: 1,
    },
  ],
  says: () => ({
    slack: { on: 'begins to slip', off: 'is fully driven' },
    free: { on: 'is released', off: 'begins to drag' },
  }),
  hazards: [
    {
      title: 'starts by itself',
      caution: 'Keep hands, sleeves and leads out of it: stop the engine first.',
      present: turning('blades'),
    },
  ],
}
