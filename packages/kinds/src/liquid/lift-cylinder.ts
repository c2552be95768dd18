import { STANDARD_ATMOSPHERE } from '@halfsplit/core'
import { REFERENCE } from '@halfsplit/network'
import type { Kind, Look, PartView } from '../kind.js'
import { CYLINDER_REPAIRS, cylinderModes } from './cylinder.js'
import { addOutside, BULK_MODULUS, leakOf, oilHazard, SEEP, wetLook } from './oil.js'
import { above } from '../present.js'

/** Pressure over which the stroke goes by [Pa]: the load weighs a little more the higher it is. An assumption. */
const BAND = 1e5

/** Way into the cylinder [m3/(s Pa)]: wide. */
const WIDE = 1e-8

/** What hoses and oil take under pressure, as oil of so many volumes of the cylinder [1]; and with air in it. Assumptions. */
const GIVES = 0.5
const SPONGY = 100

const area = (part: PartView): number => (Math.PI / 4) * part.value('bore') ** 2

/** Pressure that the load makes in the cylinder [Pa]; none when nothing is pinned to it any more. */
const loadPressure = (part: PartView): number => (part.fault('mechanical_end') ? 0 : part.imposed('load') / area(part))

/**
 * Where in its band the piston stands: on the ground the blade carries itself, and the oil is without pressure. At the end of the
 * stroke nothing holds it: the pressure goes up as far as the pump brings it.
 */
function held(part: PartView): number | undefined {
  const position = part.imposed('position')
  if (position <= 0) return -loadPressure(part)
  return position < 1 ? position * BAND : undefined
}

/** Speed of the load [m/s] times a scale, up being positive. */
const speed = (scale: number) => (part: PartView) => ({
  probe: { through: 'stroke' },
  scale: part.fault('mechanical_end') ? 0 : scale / area(part),
})

const MILLIMETRE = 1e-3
const A_MINUTE = MILLIMETRE / 60

/** Speed from which the load is seen to move at once, not to sink [m/s]. An assumption. */
const SEEN = 3 * MILLIMETRE

const looks: readonly Look[] = [
  {
    name: 'load',
    about: 'what it lifts, seen from outside',
    words: ['lowers', 'lowers slowly', 'sinks', 'holds', 'rises slowly', 'rises'],
    // Between slow and usual lie 25 mm/s down and 30 mm/s up; a sinking of 4 to 9 mm a minute is just seen. Assumptions.
    levels: [
      [-28 * MILLIMETRE, -22 * MILLIMETRE],
      [-4 * MILLIMETRE, -2 * MILLIMETRE],
      [-9 * A_MINUTE, -4 * A_MINUTE],
      [0.1 * MILLIMETRE, 0.4 * MILLIMETRE],
      [28 * MILLIMETRE, 33 * MILLIMETRE],
    ],
    quantity: speed(1),
    by: 'operator',
    minutes: 1,
    becomes: ['lowers', 'lowers slowly', 'sinks', 'stands', 'rises slowly', 'rises'],
  },
  {
    name: 'drift',
    about: 'sinking in a minute, by rule and stopwatch, mm',
    words: ['over 60', '15 to 60', '4 to 15', 'under 4'],
    // A rule read twice and a stopwatch: a tenth either way. An assumption.
    levels: [-60, -15, -4].map((mm) => [1.1 * mm * A_MINUTE, 0.9 * mm * A_MINUTE]),
    quantity: speed(1),
    by: 'technician',
    minutes: 6,
  },
  {
    name: 'feel',
    about: 'load rocked by hand or by the lever',
    words: ['firm', 'spongy'],
    levels: [[0.4, 0.6]],
    quantity: () => ({ signal: 'spongy' }),
    by: 'technician',
    minutes: 2,
  },
  { ...wetLook('oil at the breather of the rod side', 'piston'), name: 'breather' },
  wetLook('oil at rod and gland'),
]

/** Minutes and prices of the repairs are assumptions of the invented depot. */
export const liftCylinder: Kind = {
  name: 'lift-cylinder',
  title: 'lift cylinder',
  letter: 'M',
  symbol: 'single-acting cylinder, return by load',
  about: 'Oil lifts a load, the load brings it back. Where it stands and what it carries is what a state of the machine says.',
  incidence: 1,
  ports: [{ name: 'oil', domain: 'liquid', about: 'its port' }],
  ratings: {
    bore: { dimension: 'length', about: 'of the cylinder', default: '50 mm' },
    stroke: { dimension: 'length', about: 'from end to end', default: '250 mm' },
  },
  settings: {
    position: { about: 'share of the stroke that it is out', dimension: 'fraction', default: '0 %' },
    load: { about: 'that it carries', dimension: 'force', default: '6 kN' },
  },
  build(part, make) {
    const [chamber, piston] = [make.inner('chamber', 'liquid'), make.inner('piston', 'liquid')]
    const binds = part.fault('binds') ?? 0
    make.law('in', make.port('oil'), chamber, { law: 'relief', set: binds, g: WIDE, leak: SEEP })
    make.law('back', chamber, make.port('oil'), { law: 'relief', set: binds, g: WIDE, leak: SEEP })
    const value = STANDARD_ATMOSPHERE + loadPressure(part)
    make.add({ type: 'across', id: 'weight', a: chamber, b: piston, value, resistance: 0 })
    const volume = area(part) * part.value('stroke')
    const capacity = (GIVES * volume * (part.fault('air_in_oil') ? SPONGY : 1)) / BULK_MODULUS
    make.add({
      type: 'store',
      id: 'stroke',
      a: piston,
      b: REFERENCE,
      charge: { charge: 'stroke', volume, band: BAND, capacity },
      holds: held(part),
    })
    const outside = addOutside(make)
    make.conductance('piston', chamber, outside, leakOf(part.fault('leaks_past_piston')))
    make.conductance('leak', chamber, outside, leakOf(part.fault('leaks_outside')))
    make.signal('spongy', (id) => ({ type: 'imposed', id, value: part.fault('air_in_oil') !== undefined }))
  },
  modes: cylinderModes(150e5),
  repairs: CYLINDER_REPAIRS,
  looks,
  hazards: [
    oilHazard('oil'),
    {
      title: 'falls',
      caution: 'Lower it to the ground or block it before anyone is under it: what holds it is one seat and one seal.',
      present: above(SEEN, speed(-1)),
    },
    { title: 'moving parts', caution: 'Keep clear of what it lifts and of its linkage.', present: above(SEEN, speed(1)) },
  ],
}
