import { expect, test } from 'vitest'
import { flowOf, probeValue } from './probe.js'
import { type Settled, settle } from './settle.js'
import { law, network, resistor, source } from './testing/notation.js'
import type { Element, Network } from './types.js'

const solved = (net: Network): Settled => {
  const result = settle(net)
  if (result.status !== 'settled') throw new Error(`${result.status}: ${result.parts.join(', ')}`)
  return result
}

/** A starter on a 24 V battery: 0.06 V s/rad, 8 mOhm, with the drag of the engine it turns. */
function starter(dry: number, cable = 0.002): Network {
  return network(
    [
      source('battery', 'plus', '0', 25, 0.012),
      resistor('cable', 'plus', 'm', cable),
      { type: 'motor', id: 'starter', a: 'm', b: '0', shaft: 'shaft', constant: 0.06, resistance: 0.008 },
      law('engine', 'shaft', '0', { law: 'drag', dry, viscous: 0.02, smooth: 0.1 }),
    ],
    [],
    { domains: { shaft: 'rotation' } },
  )
}

test('a starter turns where its torque is the drag, and its volts are speed and resistance', () => {
  const settled = solved(starter(15))
  const speed = probeValue(settled, { across: { shaft: 1 } })
  const current = flowOf(settled, 'starter')
  expect(0.06 * current).toBeCloseTo(15 + 0.02 * speed, 4)
  expect(probeValue(settled, { across: { m: 1 } })).toBeCloseTo(0.06 * speed + 0.008 * current, 9)
  expect(current).toBeCloseTo(flowOf(settled, 'battery'), 6)
})

test('a corroded cable costs speed and leaves the current to the load; a seized engine draws the stall current', () => {
  const [good, bad] = [solved(starter(15)), solved(starter(15, 0.03))]
  expect(probeValue(bad, { across: { shaft: 1 } })).toBeLessThan(0.8 * probeValue(good, { across: { shaft: 1 } }))
  expect(flowOf(bad, 'starter') / flowOf(good, 'starter')).toBeGreaterThan(0.85)
  expect(flowOf(solved(starter(1e4)), 'starter')).toBeCloseTo(25 / (0.012 + 0.002 + 0.008), 0)
})

test('heat of a coil warms a chain of thermal resistances to what the power asks', () => {
  const thermal = (id: string, a: string, b: string, kelvinPerWatt: number): Element =>
    law(id, a, b, { law: 'linear', g: 1 / kelvinPerWatt })
  const net = network(
    [
      source('battery', 'plus', '0', 24),
      resistor('coil', 'plus', '0', 48),
      { type: 'heat', id: 'loss', of: 'coil', node: 'copper' },
      thermal('inside', 'copper', 'case', 2),
      thermal('outside', 'case', 'air', 3),
      { type: 'store', id: 'mass', a: 'copper', b: '0', charge: { charge: 'linear', capacity: 200 } },
      source('ambient', 'air', '0', 293.15),
    ],
    [],
    { domains: { copper: 'thermal', case: 'thermal', air: 'thermal' }, insulation: 1e-12 },
  )
  const settled = solved(net)
  expect(flowOf(settled, 'loss')).toBeCloseTo(12, 9)
  expect(probeValue(settled, { across: { copper: 1 } })).toBeCloseTo(293.15 + 60, 6)
  expect(probeValue(settled, { across: { case: 1 } })).toBeCloseTo(293.15 + 36, 6)
  // What the copper loses arrives in the air: the ambient takes it in.
  expect(flowOf(settled, 'ambient')).toBeCloseTo(-12, 6)
  expect(flowOf(settled, 'mass')).toBe(0)
})

test('two liquid orifices in series share the pressure by the squares of their sizes', () => {
  const net = network(
    [
      source('tank', 'return', '0', 1e5),
      source('pump', 'supply', 'return', 20e5),
      law('first', 'supply', 'middle', { law: 'square-root', k: 2e-7, laminar: 100 }),
      law('second', 'middle', 'return', { law: 'square-root', k: 1e-7, laminar: 100 }),
    ],
    [],
    { domain: 'liquid', insulation: 1e-20, rest: 1e5 },
  )
  const settled = solved(net)
  // k1^2 dp1 = k2^2 dp2, so dp1 : dp2 = 1 : 4.
  expect(probeValue(settled, { across: { supply: 1, middle: -1 } })).toBeCloseTo(4e5, -1)
  expect(flowOf(settled, 'first')).toBeCloseTo(2e-7 * Math.sqrt(4e5), 9)
})

test('at rest an inductance is its winding and a capacity carries nothing', () => {
  const net = network([
    source('battery', 'plus', '0', 24),
    { type: 'inertance', id: 'coil', a: 'plus', b: 'm', inertance: 0.1, resistance: 60 },
    resistor('r', 'm', '0', 60),
    { type: 'store', id: 'c', a: 'm', b: '0', charge: { charge: 'linear', capacity: 1e-3 } },
  ])
  const settled = solved(net)
  expect(probeValue(settled, { across: { m: 1 } })).toBeCloseTo(12, 6)
  expect(flowOf(settled, 'coil')).toBeCloseTo(0.2, 7)
})
