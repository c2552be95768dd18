import type { Hazard, Kind } from '../kind.js'
import { leakSeverity } from '../severity.js'
import { airHazard, CRITICAL_RATIO, hissLook, orifice } from './orifice.js'
import { STANDARD_ATMOSPHERE } from '@halfsplit/core'
import { pressed } from '../present.js'

const CIRCUITS = ['circuit_1', 'circuit_2', 'circuit_3'] as const
const BRAKES = CIRCUITS.slice(0, 2)

/** Air that holds spring brakes off: above the closing pressure of the valve, about where they begin to drag. An assumption. */
const springBrakes = (circuit: string): Hazard => ({
  title: 'brakes',
  caution: 'Chock the wheels: spring brakes apply, and let go, as circuits empty and fill.',
  present: (part) => pressed(part.value('closes') - STANDARD_ATMOSPHERE, circuit)(part),
})

/**
 * The table has no row for it: modes and incidence are an assumption after its rows for regulator and check valve.
 * Minutes and prices of the repairs are assumptions of the invented depot.
 */
export const protectionValve: Kind = {
  name: 'protection-valve',
  title: 'circuit protection valve',
  letter: 'Q',
  symbol: 'multi-circuit protection valve',
  about:
    'Feeds three circuits from one supply. Each way is shut while the supply is below the closing pressure, so that a broken circuit takes no more from the others, and wide open from the opening pressure on.',
  incidence: 1,
  ports: [
    { name: 'supply', domain: 'gas', about: 'from the first tank' },
    { name: 'circuit_1', domain: 'gas', about: 'first circuit' },
    { name: 'circuit_2', domain: 'gas', about: 'second circuit' },
    { name: 'circuit_3', domain: 'gas', about: 'third circuit' },
  ],
  ratings: {
    opens: { dimension: 'absolutePressure', about: 'of the supply, wide open from here up', default: '6 bar' },
    closes: { dimension: 'absolutePressure', about: 'of the supply, shut from here down', default: '4.5 bar' },
    passage: { dimension: 'sonicConductance', about: 'each way, wide open', default: '1.5 l/(s.bar)' },
  },
  build(part, make) {
    const supply = make.port('supply')
    const lift = { curve: 'ramp', from: part.value('closes'), to: part.value('opens'), low: 0, high: 1 } as const
    for (const circuit of CIRCUITS) {
      const c = part.fault(`${circuit}_stuck_shut`) ? 0 : part.value('passage')
      make.add({
        type: 'law',
        id: circuit,
        a: supply,
        b: make.port(circuit),
        // Passes both ways, as an orifice does; a valve that moves by itself is stepped with more care.
        law: { law: 'check', c, b: CRITICAL_RATIO, leak: 1 },
        gains: [{ of: 'c', node: supply, curve: lift }],
      })
    }
    make.law('leak', supply, make.air, orifice(part.fault('leaks_outside') ?? 0))
  },
  modes: [
    { id: 'leaks_outside', title: 'leaks outside', share: 0.55, severity: leakSeverity(), repair: 'replace' },
    ...CIRCUITS.map((circuit, n) => ({
      id: `${circuit}_stuck_shut`,
      title: `way to circuit ${n + 1} stuck shut`,
      share: 0.15,
      repair: 'replace',
    })),
  ],
  repairs: { replace: { title: 'replace the protection valve', minutes: 60, price: 130 } },
  looks: [hissLook('leak', 'air at the protection valve', 'leak')],
  hazards: [airHazard('supply', ...CIRCUITS), ...BRAKES.map(springBrakes)],
}
