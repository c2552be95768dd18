import { STANDARD_ATMOSPHERE } from '@halfsplit/core'
import { REFERENCE } from '@halfsplit/network'
import type { Kind, Look } from '../kind.js'
import { leakSeverity, shiftSeverity } from '../severity.js'
import { airHazard, hissLook, orifice } from './orifice.js'

/** Limit of error of a dial of accuracy class 1.6 over 0 to 10 bar [Pa] (EN 837-1, from memory: 1.6 % of its span). */
const CLASS = 0.16e5

/** Sonic conductance of the bore to its spring [m3/(s.Pa)]: about 1 mm. */
const BORE = 1.3e-9

/** How near a technician reads a dial: words change within a tenth of a bar. An assumption. */
const STEPS = [0.5, 4, 6, 7, 8, 9]
const WAVER = 0.05

const DIAL: Look = {
  name: 'dial',
  about: 'what the gauge shows, bar',
  words: ['nothing', 'under 4', '4 to 6', '6 to 7', '7 to 8', '8 to 9', 'over 9'],
  levels: STEPS.map((bar) => [bar - WAVER, bar + WAVER]),
  quantity: () => ({ probe: { across: { spring: 1, nought: -1 } }, scale: 1e-5 }),
  by: 'operator',
  minutes: 0.5,
}

/** Gauge and test gauge on one line: what is between them lies outside both classes from a quarter of a bar on. An assumption. */
const AGREEMENT: Look = {
  name: 'agrees',
  about: 'against a test gauge on the same line',
  words: ['reads low', 'agrees', 'reads high'],
  levels: [
    [-0.3, -0.2],
    [0.2, 0.3],
  ],
  quantity: () => ({ probe: { across: { spring: 1, nought: -1, air: -1, atmosphere: 1 } }, scale: 1e-5 }),
  by: 'technician',
  minutes: 6,
}

/**
 * The table has no row for a dial: modes and incidence are an assumption after its rows for sensor and fitting.
 * Minutes and prices of the repairs are assumptions of the invented depot.
 */
export const pressureGauge: Kind = {
  name: 'pressure-gauge',
  title: 'pressure gauge',
  letter: 'P',
  symbol: 'pressure gauge',
  about: 'Dial on the dash or on the machine. It can read wrong: compare it before a pressure is blamed.',
  incidence: 1,
  ports: [{ name: 'air', domain: 'gas', about: 'line it is on' }],
  ratings: { error: { dimension: 'pressureDifference', about: 'of its reading', default: '0 bar +- 0.1 bar' } },
  build(part, make) {
    const hold = (id: string, value: number) =>
      make.add({ type: 'across', id, a: make.inner(id, 'gas'), b: REFERENCE, value, resistance: 0 })
    // The needle stands at nought where the spring has the pressure of this node.
    hold('nought', STANDARD_ATMOSPHERE - part.value('error') - (part.fault('reads_wrong') ?? 0))
    hold('atmosphere', STANDARD_ATMOSPHERE)
    make.law('bore', make.port('air'), make.inner('spring', 'gas'), orifice(part.fault('line_blocked') ? 0 : BORE))
    make.law('leak', make.port('air'), make.air, orifice(part.fault('leaks_outside') ?? 0))
  },
  modes: [
    {
      id: 'reads_wrong',
      title: 'reads wrong',
      share: 0.5,
      severity: shiftSeverity('pressureDifference', CLASS, [2, 3, 5]),
      repair: 'replace',
    },
    { id: 'line_blocked', title: 'line blocked, shows what it had', share: 0.15, repair: 'replace' },
    { id: 'leaks_outside', title: 'leaks behind the dash', share: 0.35, severity: leakSeverity(), repair: 'replace' },
  ],
  repairs: { replace: { title: 'replace the gauge and its line', minutes: 40, price: 45 } },
  looks: [DIAL, AGREEMENT, hissLook('leak', 'air behind the gauge', 'leak')],
  hazards: [airHazard('air')],
}
