import { GAP } from '../insulation.js'
import type { Kind, PartView } from '../kind.js'
import { above } from '../present.js'

/** Coils from the slowest step inwards, each by the rating it ends at and the one it begins at. */
const COILS = [
  { step: 'low', next: 'mid' },
  { step: 'mid', next: 'high' },
  { step: 'high', next: undefined },
] as const

/** What one coil adds to the steps after it [ohm]. */
const coil = (part: PartView, { step, next }: (typeof COILS)[number]): number =>
  Math.max(part.value(step) - (next ? part.value(next) : 0), LEAST)

/** Current from which its coils burn a finger [A]. An assumption. */
const GLOWS = 2

/** Least resistance of a coil, should two steps be rated alike [ohm]. */
const LEAST = 1e-3

/**
 * The table has no rows for a resistor block: modes and incidence are an assumption.
 * Minutes and prices of the repairs are assumptions of the invented depot.
 */
export const resistorBlock: Kind = {
  name: 'resistor-block',
  title: 'resistor block of a blower',
  letter: 'R',
  symbol: 'resistor with fixed tappings',
  about: 'Three coils in a row in the air of the blower, tapped for its slower steps, with a thermal fuse that opens for good.',
  incidence: 1.5,
  ports: [
    { name: 'low', domain: 'electrical', about: 'from the slowest step: all coils' },
    { name: 'mid', domain: 'electrical', about: 'from the middle step' },
    { name: 'high', domain: 'electrical', about: 'from the fast step: one coil' },
    { name: 'motor', domain: 'electrical', about: 'to the blower, behind the thermal fuse' },
  ],
  ratings: {
    low: { dimension: 'resistance', about: 'from low to motor', default: '2.4 Ohm +- 8 %' },
    mid: { dimension: 'resistance', about: 'from mid to motor', default: '1.1 Ohm +- 8 %' },
    high: { dimension: 'resistance', about: 'from high to motor', default: '0.5 Ohm +- 8 %' },
    fuse: { dimension: 'current', about: 'above which the thermal fuse opens when it lasts', default: '12 A' },
  },
  build(part, make) {
    const end = make.inner('end', 'electrical')
    COILS.forEach((one) => {
      const to = one.next ? make.port(one.next) : end
      make.conductance(one.step, make.port(one.step), to, part.fault(`${one.step}_coil_open`) ? GAP : 1 / coil(part, one))
    })
    make.conductance('fuse', end, make.port('motor'), part.fault('thermal_fuse_open') ? GAP : 1 / LEAST)
  },
  modes: [
    { id: 'thermal_fuse_open', title: 'thermal fuse open', share: 0.55, repair: 'replace' },
    { id: 'low_coil_open', title: 'coil of the slowest step burnt through', share: 0.15, repair: 'replace' },
    { id: 'mid_coil_open', title: 'coil of the middle step burnt through', share: 0.15, repair: 'replace' },
    { id: 'high_coil_open', title: 'coil of the fast step burnt through', share: 0.15, repair: 'replace' },
  ],
  repairs: {
    replace: { title: 'replace the resistor block; see that the blower turns freely', minutes: 25, price: 32, disturbs: true },
  },
  isolated: [
    { title: 'all coils', red: 'low', black: 'motor', minutes: 4 },
    { title: 'one coil', red: 'high', black: 'motor', minutes: 4 },
  ],
  overload: (part) => ({ element: 'fuse', limit: part.value('fuse'), mode: 'thermal_fuse_open' }),
  hazards: [
    {
      title: 'hot',
      caution: 'Its coils glow when the blower stands: let it cool, keep paper and leaves out.',
      present: above(GLOWS, () => ({ probe: { through: 'fuse' }, scale: 1, absolute: true })),
    },
  ],
  unplugs: true,
}
