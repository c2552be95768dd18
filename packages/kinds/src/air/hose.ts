import type { Kind, PartView } from '../kind.js'
import { blockedSeverity, leakSeverity } from '../severity.js'
import { airHazard, hissLook, left, orifice } from './orifice.js'

/**
 * Sonic conductance [m3/(s.Pa)] and critical pressure ratio of a straight tube:  C = 0.029 d^2 / sqrt(l/d^1.25 + 510),  b = 474 C/d^2.
 * @param bore d [m]   @param length l [m]   Source: tube formula used with ISO 6358, from memory.  Checked in air.test.ts
 */
export function tube(bore: number, length: number): { c: number; b: number } {
  const c = (0.029 * bore ** 2) / Math.sqrt(length / bore ** 1.25 + 510)
  return { c, b: Math.min((474 * c) / bore ** 2, 0.5) }
}

/** The way out of a burst hose is its whole bore. */
const torn = (part: PartView): number | undefined => (part.fault('bursts') ? tube(part.value('bore'), 0).c : undefined)

/** Minutes and prices of the repairs are assumptions of the invented depot. */
export const hose: Kind = {
  name: 'hose',
  title: 'air hose',
  letter: 'W',
  symbol: 'flexible line',
  about: 'Hose or pipe with its crimped or pushed-in ends.',
  // Without: swapped at reconnection, which takes two hoses to describe.
  incidence: 1.5 * 0.97,
  ports: [
    { name: 'a', domain: 'gas', about: 'supply end', accessible: false },
    { name: 'b', domain: 'gas', about: 'far end', accessible: false },
  ],
  ratings: {
    bore: { dimension: 'length', about: 'inside diameter', default: '6 mm' },
    length: { dimension: 'length', about: 'length of the run', default: '1 m' },
  },
  build(part, make) {
    const { c, b } = tube(part.value('bore'), part.value('length'))
    const passage = left(c, part.fault('restricted'))
    // A flap of the lining lets air in and not back out.
    const back = part.fault('flap_of_lining_acts_as_check_valve') ? 0 : 1
    make.law('run', make.port('a'), make.port('b'), { law: 'check', c: passage, b, leak: back })
    make.law('leak', make.port('b'), make.air, orifice(torn(part) ?? part.fault('leaks_outside') ?? 0))
  },
  modes: [
    { id: 'leaks_outside', title: 'leaks', share: 0.58, severity: leakSeverity(), repair: 'replace' },
    { id: 'restricted', title: 'kinked or blocked', share: 0.24, severity: blockedSeverity(), repair: 'replace' },
    { id: 'bursts', title: 'burst', share: 0.1, repair: 'replace' },
    {
      id: 'flap_of_lining_acts_as_check_valve',
      title: 'loose lining lets no air back',
      share: 0.05,
      repair: 'replace',
    },
  ],
  repairs: { replace: { title: 'replace the hose', minutes: 25, price: 18 } },
  looks: [hissLook('leak', 'air along the hose', 'leak')],
  hazards: [airHazard('a', 'b')],
}
