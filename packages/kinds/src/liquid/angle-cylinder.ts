import type { Kind, LookQuantity, PartView } from '../kind.js'
import { CYLINDER_REPAIRS, cylinderModes } from './cylinder.js'
import { addOutside, BULK_MODULUS, leakOf, oilHazard, SEEP, wetLook } from './oil.js'
import { above } from '../present.js'

/** Pressure over which the stroke goes by [Pa]. An assumption. */
const BAND = 1e5

/** Way into the cylinder [m3/(s Pa)]: wide. */
const WIDE = 1e-8

/** What hoses and oil take under pressure, as oil of so many volumes of the cylinder [1]; and with air in it. Assumptions. */
const GIVES = 0.5
const SPONGY = 100

const volumeOf = (part: PartView): number => (Math.PI / 4) * part.value('bore') ** 2 * part.value('stroke')

/** At either end nothing holds it: it moves no further, and the pressure goes as far as the pump brings it. */
function held(part: PartView): number | undefined {
  const position = part.imposed('position')
  return position > 0 && position < 1 ? (position - 0.5) * BAND : undefined
}

/** Strokes a second, to the right. */
const swing = (part: PartView): LookQuantity => ({
  probe: { through: 'line' },
  scale: part.fault('mechanical_end') ? 0 : -1 / volumeOf(part),
})

/** Strokes a second from which it is seen to move. An assumption. */
const SEEN = 0.02

/** Minutes and prices of the repairs are assumptions of the invented depot. */
export const angleCylinder: Kind = {
  name: 'angle-cylinder',
  title: 'double-acting cylinder',
  letter: 'M',
  symbol: 'double-acting cylinder',
  about:
    'Oil at `a` drives it to the right, oil at `b` to the left; a pair of single-acting ones that push against each other counts as one.',
  incidence: 1,
  ports: [
    { name: 'a', domain: 'liquid', about: 'port that drives it to the left' },
    { name: 'b', domain: 'liquid', about: 'port that drives it to the right' },
  ],
  ratings: {
    bore: { dimension: 'length', about: 'of the cylinder', default: '40 mm' },
    stroke: { dimension: 'length', about: 'from end to end', default: '200 mm' },
    effort: { dimension: 'pressureDifference', about: 'it takes to move what it moves', default: '15 bar' },
  },
  settings: { position: { about: 'share of the stroke, 0 right and 100 % left', dimension: 'fraction', default: '50 %' } },
  build(part, make) {
    const [a, b] = [make.port('a'), make.port('b')]
    const [neck, inside] = [make.inner('neck', 'liquid'), make.inner('inside', 'liquid')]
    const set = part.fault('mechanical_end') ? 0 : part.value('effort') + (part.fault('binds') ?? 0)
    make.conductance('line', a, neck, WIDE)
    make.law('in', neck, inside, { law: 'relief', set, g: WIDE, leak: SEEP })
    make.law('back', inside, neck, { law: 'relief', set, g: WIDE, leak: SEEP })
    const volume = volumeOf(part)
    const capacity = (GIVES * volume * (part.fault('air_in_oil') ? SPONGY : 1)) / BULK_MODULUS
    make.add({
      type: 'store',
      id: 'stroke',
      a: inside,
      b,
      charge: { charge: 'stroke', volume, band: BAND, capacity },
      holds: held(part),
    })
    make.conductance('piston', a, b, leakOf(part.fault('leaks_past_piston')))
    make.conductance('leak', a, addOutside(make), leakOf(part.fault('leaks_outside')))
    make.signal('spongy', (id) => ({ type: 'imposed', id, value: part.fault('air_in_oil') !== undefined }))
  },
  modes: cylinderModes(180e5),
  repairs: CYLINDER_REPAIRS,
  looks: [
    {
      name: 'swing',
      about: 'what it moves, seen from outside',
      words: ['swings left', 'stands', 'swings right'],
      // Strokes a second: a crossing that takes longer than half a minute is not seen as one. An assumption.
      levels: [
        [-0.06, -0.02],
        [0.02, 0.06],
      ],
      quantity: swing,
      by: 'operator',
      minutes: 0.5,
    },
    {
      name: 'feel',
      about: 'what it moves, rocked by hand',
      words: ['firm', 'spongy'],
      levels: [[0.4, 0.6]],
      quantity: () => ({ signal: 'spongy' }),
      by: 'technician',
      minutes: 2,
    },
    wetLook('oil at rod and gland'),
  ],
  hazards: [
    oilHazard('a', 'b'),
    {
      title: 'moving parts',
      caution: 'Keep clear of what it moves, also when a hose is opened.',
      present: above(SEEN, (part) => ({ ...swing(part), absolute: true })),
    },
  ],
}
