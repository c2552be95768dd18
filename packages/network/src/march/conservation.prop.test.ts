import fc from 'fast-check'
import { expect, test } from 'vitest'
import { chargeAt } from '../charge.js'
import { probeValue } from '../probe.js'
import type { Charge, Domain, Element, Law, Network } from '../types.js'
import { march } from './march.js'
import type { Instant } from './outcome.js'

/** A closed network of stores joined by a tree and some loops of elements: nothing comes in, nothing gets out. */
function closed(domain: Domain, charges: Charge[], starts: number[], joins: { from: number; to: number; law: Law }[]): Network {
  const nodes = charges.map((_, i) => ({ id: `n${i}`, domain, insulation: 0, rest: 0 }))
  const stores = charges.map(
    (charge, i): Element => ({ type: 'store', id: `s${i}`, a: `n${i}`, b: '0', charge, holds: starts[i] }),
  )
  const links = joins.map(({ from, to, law }, k): Element => ({ type: 'law', id: `l${k}`, a: `n${from}`, b: `n${to}`, law }))
  return { nodes, elements: [...stores, ...links], signals: [] }
}

const count = 5
const joinsOf = (law: fc.Arbitrary<Law>) =>
  fc
    .tuple(
      ...Array.from({ length: count - 1 }, (_, i) => fc.tuple(fc.nat({ max: i }), law)),
      fc.tuple(fc.nat({ max: count - 1 }), fc.nat({ max: count - 1 }), law),
    )
    .map((all) => {
      const tree = (all.slice(0, count - 1) as [number, Law][]).map(([from, law], i) => ({ from, to: i + 1, law }))
      const [from, to, extra] = all[count - 1] as [number, number, Law]
      return from === to ? tree : [...tree, { from, to, law: extra }]
    })

const logarithm = (low: number, high: number) => fc.double({ min: Math.log(low), max: Math.log(high), noNaN: true }).map(Math.exp)

/** All that the stores hold together. */
const total = (charges: Charge[], instant: Instant): number =>
  charges.reduce((sum, charge, i) => sum + chargeAt(charge, probeValue(instant, { across: { [`n${i}`]: 1 } })).q, 0)

interface Fluid {
  domain: Domain
  charge: fc.Arbitrary<Charge>
  law: fc.Arbitrary<Law>
  start: fc.Arbitrary<number>
}

const gas: Fluid = {
  domain: 'gas',
  charge: fc.oneof(
    logarithm(1e-9, 5e-7).map((capacity): Charge => ({ charge: 'linear', capacity })),
    logarithm(1e-9, 5e-7).map((capacity): Charge => ({ charge: 'polytropic', capacity, reference: 8e5, exponent: 1.3 })),
  ),
  law: fc.oneof(
    logarithm(1e-10, 1e-8).map((c): Law => ({ law: 'orifice', c, b: 0.3 })),
    logarithm(1e-10, 1e-8).map((c): Law => ({ law: 'check', c, b: 0.3, leak: 1e-4 })),
  ),
  start: fc.double({ min: 1e5, max: 1e6, noNaN: true }),
}

const liquid: Fluid = {
  domain: 'liquid',
  charge: fc.oneof(
    logarithm(1e-14, 1e-12).map((capacity): Charge => ({ charge: 'linear', capacity })),
    logarithm(1e-5, 1e-3).map((volume): Charge => ({ charge: 'stroke', volume, band: 2e5, capacity: 1e-13 })),
    logarithm(1e-5, 1e-3).map(
      (volume): Charge => ({ charge: 'accumulator', volume, precharge: 2e6, exponent: 1.3, capacity: 1e-13 }),
    ),
  ),
  law: fc.oneof(
    logarithm(1e-9, 1e-7).map((k): Law => ({ law: 'square-root', k, laminar: 1e3 })),
    logarithm(1e-13, 1e-10).map((g): Law => ({ law: 'relief', set: 5e5, g, leak: 1e-14 })),
  ),
  start: fc.double({ min: 1e5, max: 2e7, noNaN: true }),
}

const thermal: Fluid = {
  domain: 'thermal',
  charge: logarithm(10, 1e6).map((capacity): Charge => ({ charge: 'linear', capacity })),
  law: fc.oneof(
    logarithm(1e-2, 1e3).map((g): Law => ({ law: 'linear', g })),
    fc
      .tuple(logarithm(1, 1e3), logarithm(1, 1e3), logarithm(1, 1e3))
      .map(([hot, cold, ua]): Law => ({ law: 'exchanger', hot, cold, ua })),
  ),
  start: fc.double({ min: 250, max: 400, noNaN: true }),
}

// What no boundary lets through stays: mass of gas, volume of liquid with its compressibility, heat.
test.each([
  ['mass of gas', gas],
  ['volume of liquid', liquid],
  ['heat', thermal],
] as const)('in a closed network the %s is conserved', (_, { domain, charge, law, start }) => {
  fc.assert(
    fc.property(
      fc.array(charge, { minLength: count, maxLength: count }),
      fc.array(start, { minLength: count, maxLength: count }),
      joinsOf(law),
      (charges, starts, joins) => {
        const run = march([{ from: 0, network: closed(domain, charges, starts, joins) }], {
          until: 30,
          samples: [0, 0.1, 1, 10, 30],
        })
        expect(run.status).toBe('done')
        const first = starts.reduce((sum, value, i) => sum + chargeAt(charges[i], value).q, 0)
        for (const sample of run.samples) expect(Math.abs(total(charges, sample) - first)).toBeLessThan(1e-7 * Math.abs(first))
      },
    ),
    { numRuns: 40 },
  )
})

test('what leaves a tank through an orifice is what the tank loses', () => {
  fc.assert(
    fc.property(
      logarithm(1e-9, 5e-7),
      logarithm(1e-10, 1e-8),
      fc.double({ min: 2e5, max: 1e6, noNaN: true }),
      (capacity, c, start) => {
        const network: Network = {
          nodes: [
            { id: 'tank', domain: 'gas', insulation: 0, rest: 0 },
            { id: 'air', domain: 'gas', insulation: 0, rest: 0 },
          ],
          elements: [
            { type: 'store', id: 'tank', a: 'tank', b: '0', charge: { charge: 'linear', capacity }, holds: start },
            { type: 'across', id: 'air', a: 'air', b: '0', value: 101325, resistance: 0 },
            { type: 'law', id: 'hole', a: 'tank', b: 'air', law: { law: 'orifice', c, b: 0.3 } },
          ],
          signals: [],
        }
        const { samples } = march([{ from: 0, network }], { until: 10, samples: [1, 5] })
        for (const one of samples) {
          const lost = -probeValue(one, { through: 'tank' })
          const out = probeValue(one, { through: 'hole' })
          expect(Math.abs(lost - out)).toBeLessThan(1e-6 * Math.abs(out) + 1e-9)
          expect(Math.abs(-probeValue(one, { through: 'air' }) - out)).toBeLessThan(1e-12)
        }
      },
    ),
    { numRuns: 40 },
  )
})
