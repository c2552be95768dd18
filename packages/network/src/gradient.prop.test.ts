import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { gradient } from './gradient.js'
import { adjointOf, type Probe, probeValue, seenResistance } from './probe.js'
import { type Settled, settle } from './settle.js'
import type { Change } from './slopes.js'
import { contact, diode, drive, lamp, law, network, resistor, source, threshold } from './testing/notation.js'
import type { Element, Network } from './types.js'

const solved = (net: Network): Settled => {
  const result = settle(net)
  if (result.status !== 'settled') throw new Error(`${result.status}: ${result.parts.join(', ')}`)
  return result
}

/** Every number of an element that is a parameter, with the element where it is changed by a relative step. */
function variants(element: Element, relative: number): { name: string; step: number; element: Element }[] {
  const inner = element.type === 'law' ? element.law : element.type === 'gate' ? element.on : element
  return Object.entries(inner).flatMap(([key, value]) => {
    if (typeof value !== 'number' || value === 0) return []
    const changed = { ...inner, [key]: value * (1 + relative) }
    const whole =
      element.type === 'law' ? { ...element, law: changed } : element.type === 'gate' ? { ...element, on: changed } : changed
    return [{ name: `${element.id}.${key}`, step: value * relative, element: whole as Element }]
  })
}

/** Where the adjoint and central differences of full solves disagree, over every parameter and every probe. */
function disagreements(net: Network, probes: Probe[], tolerance = 1e-4): string[] {
  const found: string[] = []
  const settled = solved(net)
  const changes = net.elements.flatMap((element, position) =>
    variants(element, 1e-7).map(({ name, step, element: changed }) => ({
      name,
      position,
      change: { step, elements: [{ position, element: changed }] } satisfies Change,
    })),
  )
  for (const probe of probes) {
    const slopes = gradient(
      settled,
      probe,
      changes.map(({ change }) => change),
    )
    const size = Math.abs(probeValue(settled, probe)) + 1e-6
    changes.forEach(({ name, position, change }, n) => {
      const value = change.step / 1e-7
      const at = (relative: number) => {
        const changed = variants(net.elements[position], relative).find((one) => one.name === name)
        const elements = net.elements.map((element, k) => (k === position && changed ? changed.element : element))
        return probeValue(solved({ ...net, elements }), probe)
      }
      // Both as a share of the probe for a relative change of the parameter.
      const expected = (at(1e-4) - at(-1e-4)) / 2e-4 / size
      const own = (slopes[n] * value) / size
      if (Math.abs(own - expected) <= tolerance * (1 + Math.abs(expected))) return
      found.push(`${JSON.stringify(probe)} by ${name}: ${own}, by full solves ${expected}`)
    })
  }
  return found
}

const every = (net: Network): Probe[] => net.elements.filter(({ type }) => type !== 'store').map(({ id }) => ({ through: id }))

describe('the adjoint agrees with full solves', () => {
  test('sources held, turned round, stacked, with resistance, and a lamp, a diode and a contact', () => {
    const net = network(
      [
        source('lower', 'mid', '0', 12),
        source('upper', 'post', 'mid', 12),
        source('back', '0', 'low', 3),
        source('soft', 'bus', '0', 24.5, 0.3),
        resistor('main', 'post', 'bus', 0.02),
        diode('d', 'bus', 'lamp'),
        lamp('l', 'lamp', 'low', 21, 24),
        resistor('coil', 'bus', '0', 90),
        contact('k', 'bus', 'load', 'K'),
        resistor('load', 'load', '0', 7),
        drive('leak', 'load', '0', 0.4),
      ],
      [threshold('K', 'bus', 15, 6)],
    )
    const across: Probe[] = [{ across: { lamp: 1 } }, { across: { bus: 1, load: -1 } }, { across: { post: 1, low: -1 } }]
    expect(disagreements(net, [...across, ...every(net)])).toEqual([])
  })

  test('an ideal source that floats, and a heat seen at its thermal node', () => {
    const net = network(
      [
        source('cell', 'p', 'q', 9),
        resistor('r', 'p', 's', 40),
        lamp('l', 's', 'q', 5, 12),
        resistor('g', 'q', '0', 100),
        source('battery', 'plus', '0', 24, 0.1),
        resistor('leak', 'plus', 's', 500),
        { type: 'heat', id: 'warm', of: 'l', node: 'T' },
        { type: 'heat', id: 'warm2', of: 'r', node: 'T' },
        source('ambient', 'air', '0', 293),
        law('loss', 'T', 'air', { law: 'linear', g: 0.05 }),
        { type: 'heat', id: 'warm3', of: 'leak', node: 'air' },
      ],
      [],
      { domains: { T: 'thermal', air: 'thermal' } },
    )
    expect(disagreements(net, [{ across: { T: 1 } }, { across: { p: 1, q: -1 } }, { across: { s: 1 } }, ...every(net)])).toEqual(
      [],
    )
  })

  test('a machine under load', () => {
    const net = network(
      [
        source('battery', 'plus', '0', 12.6, 0.01),
        resistor('cable', 'plus', 'm', 0.002),
        { type: 'motor', id: 'starter', a: 'm', b: 'e', shaft: 'shaft', constant: 0.04, resistance: 0.006 },
        resistor('strap', 'e', '0', 0.001),
        law('drag', 'shaft', '0', { law: 'drag', dry: 8, viscous: 0.03, smooth: 0.5 }),
      ],
      [],
      { domains: { shaft: 'rotation' } },
    )
    expect(disagreements(net, [{ across: { shaft: 1 } }, { across: { m: 1, e: -1 } }, ...every(net)])).toEqual([])
  })

  test('air through regulator, valve and leak', () => {
    const bar = 1e5
    const net = network(
      [
        source('atmosphere', 'atm', '0', 1.013 * bar),
        source('supply', 'tank', 'atm', 8 * bar),
        law('regulator', 'tank', 'reg', { law: 'regulator', c: 3e-8, b: 0.4, set: 7.5 * bar, band: 0.4 * bar, creep: 0 }),
        law('hose', 'reg', 'port', { law: 'orifice', c: 1e-8, b: 0.3 }),
        law('leak', 'port', 'atm', { law: 'orifice', c: 1e-9, b: 0.4 }),
      ],
      [],
      { domain: 'gas', insulation: 1e-16, rest: 1.013 * bar },
    )
    expect(disagreements(net, [{ across: { port: 1, atm: -1 } }, { across: { reg: 1 } }, ...every(net)], 1e-3)).toEqual([])
  })

  test('a threshold is a probe like any other: its input moves with every part', () => {
    const net = network(
      [
        source('battery', 'plus', '0', 24, 0.05),
        resistor('joint', 'plus', 'coil', 30),
        resistor('winding', 'coil', 'e', 90),
        resistor('strap', 'e', '0', 2),
      ],
      [threshold('K', 'coil', 15, 6, 'e')],
    )
    expect(disagreements(net, [{ across: { coil: 1, e: -1 } }])).toEqual([])
  })

  test('random ladders of resistors, lamps and diodes', () => {
    const power = fc.double({ min: -2, max: 3, noNaN: true })
    const rung = fc.record({ series: power, kind: fc.constantFrom('ohm', 'lamp', 'diode'), ohm: power })
    fc.assert(
      fc.property(fc.array(rung, { minLength: 2, maxLength: 6 }), (rungs) => {
        const elements: Element[] = [source('battery', 'n0', '0', 24, 0.05)]
        rungs.forEach(({ series, kind, ohm }, n) => {
          elements.push(resistor(`s${n}`, `n${n}`, `n${n + 1}`, 10 ** series))
          if (kind === 'ohm') elements.push(resistor(`r${n}`, `n${n + 1}`, '0', 10 ** ohm))
          if (kind === 'lamp') elements.push(lamp(`r${n}`, `n${n + 1}`, '0', 21, 24))
          if (kind === 'diode') elements.push(diode(`d${n}`, `n${n + 1}`, `m${n}`), resistor(`r${n}`, `m${n}`, '0', 10 ** ohm))
        })
        const net = network(elements)
        expect(
          disagreements(net, [{ across: { [`n${rungs.length}`]: 1, n1: -1 } }, { through: 'battery' }, { through: 's0' }], 1e-3),
        ).toEqual([])
      }),
      { numRuns: 25 },
    )
  })
})

test('the resistance seen by a probe is that of the network with its sources at rest', () => {
  const net = network([source('battery', 'plus', '0', 12), resistor('r', 'plus', 'p', 30), resistor('q', 'p', '0', 60)])
  const probe = { across: { p: 1 } }
  const settled = solved(net)
  expect(seenResistance(settled, probe, adjointOf(settled, probe))).toBeCloseTo(20, 5)
})
