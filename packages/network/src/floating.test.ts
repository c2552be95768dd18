import { describe, expect, test } from 'vitest'
import { floatingNodes } from './floating.js'
import { probeValue } from './probe.js'
import { type Settled, settle } from './settle.js'
import { contact, diode, network, resistor, source } from './testing/notation.js'
import type { Element, Network } from './types.js'

const solved = (net: Network): Settled => {
  const result = settle(net)
  if (result.status !== 'settled') throw new Error(`${result.status}: ${result.parts.join(', ')}`)
  return result
}

const off = [{ type: 'imposed', id: 'key', value: false } as const]

/** Insulation of 1e12 ohm, so that only the parts listed count. */
const wired = (elements: Element[]) => network(elements, off, { insulation: 1e-12 })

const reads = (elements: Element[], node: string) => probeValue(solved(wired(elements)), { across: { [node]: 1 } })

describe('a node that only insulation holds', () => {
  test('is marked, with all that hangs on it, and the rest is not', () => {
    const net = wired([
      source('battery', 'plus', '0', 24),
      contact('switch', 'plus', 'out', 'key'),
      resistor('wire', 'out', 'pin', 0.02),
      resistor('lamp', 'plus', 'ground', 24),
      resistor('strap', 'ground', '0', 0.01),
    ])
    expect([...floatingNodes(solved(net))].toSorted()).toEqual(['out', 'pin'])
  })

  test('has a definite voltage: what its insulation rests at', () => {
    const tail = [
      source('battery', 'plus', '0', 24),
      contact('switch', 'plus', 'out', 'key'),
      resistor('wire', 'out', 'pin', 0.02),
    ]
    expect(reads(tail, 'pin')).toBe(0)
  })

  test('a blocking diode holds nothing, a conducting one does', () => {
    const net = network([
      source('battery', 'plus', '0', 24),
      diode('blocks', 'a', 'plus'),
      diode('leads', 'plus', 'b'),
      resistor('load', 'b', '0', 100),
    ])
    expect([...floatingNodes(solved(net))]).toEqual(['a'])
  })

  test('a source between floating points holds them to each other, not to ground', () => {
    const net = wired([source('cell', 'p', 'q', 9), resistor('r', 'p', 'q', 1000), resistor('g', 'm', '0', 1)])
    expect([...floatingNodes(solved(net))].toSorted()).toEqual(['p', 'q'])
  })
})

// Trap P03 of the trade's notes (computed, common practice, no source).
describe('a wire beside a live one, 5 Mohm of leakage from 24 V', () => {
  const leak = [source('battery', 'plus', '0', 24), resistor('leak', 'plus', 'pin', 5e6)]

  test('shows 16 V on a 10 Mohm meter and 0.01 V on a 3 kohm one', () => {
    expect(reads([...leak, resistor('meter', 'pin', '0', 10e6)], 'pin')).toBeCloseTo(16, 2)
    expect(reads([...leak, resistor('meter', 'pin', '0', 3e3)], 'pin')).toBeCloseTo(0.01, 2)
  })
})

// Trap P02 of the trade's notes (computed, common practice, no source).
describe('a 12 V feed with 100 kohm of corrosion', () => {
  const feed = [source('battery', 'plus', '0', 12), resistor('joint', 'plus', 'pin', 100e3)]

  test('shows 11.88 V on a 10 Mohm meter, 0.35 V on a 3 kohm one and 0.001 V on a 21 W lamp', () => {
    expect(reads([...feed, resistor('meter', 'pin', '0', 10e6)], 'pin')).toBeCloseTo(11.88, 2)
    expect(reads([...feed, resistor('meter', 'pin', '0', 3e3)], 'pin')).toBeCloseTo(0.35, 2)
    // A 21 W lamp of 12 V is about 7 ohm hot and less than 1 ohm cold.
    expect(reads([...feed, resistor('lamp', 'pin', '0', 7)], 'pin')).toBeCloseTo(0.001, 3)
  })
})
