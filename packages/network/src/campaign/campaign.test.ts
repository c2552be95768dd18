import { describe, expect, test } from 'vitest'
import { settle } from '../settle.js'
import { contact, drive, lamp, law, network, resistor, restContact, source, threshold } from '../testing/notation.js'
import { vehicle } from '../testing/vehicle.js'
import type { Element, Network } from '../types.js'
import { Campaign, campaign } from './campaign.js'
import { bothFaults, faulted, type NetworkFault } from './fault.js'

const place = (net: Network, id: string): number => net.elements.findIndex((element) => element.id === id)

const fault = (net: Network, ...elements: Element[]): NetworkFault => ({
  id: elements.map(({ id }) => id).join('+'),
  changes: elements.map((element) => ({ position: place(net, element.id), element })),
})

/** A feed through a joint and a lamp-like load to a strap; node by node 24 V, joint, load. */
const feed = network([
  source('battery', 'post', '0', 24),
  resistor('joint', 'post', 'load', 0.01),
  resistor('load', 'load', 'minus', 4),
  resistor('strap', 'minus', '0', 0.01),
])

const across = (run: Campaign, of: NetworkFault): Record<string, number> => {
  const outcome = run.solve(of)
  if (outcome.status !== 'settled') throw new Error(`${of.id}: ${outcome.status}`)
  return Object.fromEntries(run.circuit.names.map((name, i) => [name, outcome.across[i]]))
}

describe('what a fault may change', () => {
  const run = new Campaign(feed)

  test('a poor joint takes its share of the voltage', () => {
    expect(across(run, fault(feed, resistor('joint', 'post', 'load', 4))).load).toBeCloseTo((24 * 4.01) / 8.01, 6)
  })

  test('an open ground lets all of it rise to the supply', () => {
    expect(across(run, fault(feed, resistor('strap', 'minus', '0', 1e12))).minus).toBeCloseTo(24, 5)
  })

  test('another supply, held or driven', () => {
    expect(across(run, fault(feed, source('battery', 'post', '0', 12))).load).toBeCloseTo(12 * (4.01 / 4.02), 6)
    const driven: NetworkFault = { id: 'leak', changes: [], added: [drive('leak', 'load', '0', 100)] }
    expect(across(run, driven).load).toBeCloseTo(settledAcross(driven).load, 9)
    // And the sound network afterwards, with nothing left of it.
    expect(across(run, { id: 'none', changes: [] }).load).toBeCloseTo(24 * (4.01 / 4.02), 6)
  })

  test('a bridge between two nodes, and a part moved to other ends', () => {
    const bridge: NetworkFault = { id: 'bridge', changes: [], added: [resistor('bridge', 'post', 'minus', 0.01)] }
    expect(across(run, bridge).minus).toBeCloseTo(settledAcross(bridge).minus, 9)
    const moved = fault(feed, resistor('load', 'post', 'minus', 4))
    expect(across(run, moved).load).toBeCloseTo(24, 6)
  })

  test('a conductance that becomes a lamp', () => {
    const glowing = fault(feed, lamp('load', 'load', 'minus', 70, 24))
    expect(across(run, glowing).minus).toBeCloseTo(settledAcross(glowing).minus, 9)
  })

  test('both faults of a pair; the second has the last word where they meet', () => {
    const poor = fault(feed, resistor('joint', 'post', 'load', 4))
    const worse = fault(feed, resistor('joint', 'post', 'load', 12))
    const strap = fault(feed, resistor('strap', 'minus', '0', 8))
    expect(across(run, bothFaults(poor, strap)).minus).toBeCloseTo((24 * 8) / 16, 6)
    expect(across(run, bothFaults(poor, worse)).load).toBeCloseTo((24 * 4.01) / 16.01, 6)
  })

  test('none of these took a full solve', () => {
    expect(run.counts).toMatchObject({ bySettle: 0, byPath: run.counts.settled })
  })

  function settledAcross(of: NetworkFault): Record<string, number> {
    const settled = settle(faulted(feed, of))
    if (settled.status !== 'settled') throw new Error(settled.status)
    return Object.fromEntries(settled.circuit.names.map((name, i) => [name, settled.point.across[i]]))
  }
})

describe('what goes through a full solve, and is counted', () => {
  test('another ideal source', () => {
    const run = new Campaign(feed)
    const added: NetworkFault = { id: 'charger', changes: [], added: [source('charger', 'load', '0', 28)] }
    expect(across(run, added).load).toBe(28)
    expect(run.counts).toMatchObject({ bySettle: 1, byPath: 0 })
  })

  test('a second source that contradicts the first is refused, with both named', () => {
    const run = new Campaign(feed)
    const outcome = run.solve({ id: 'crossed', changes: [], added: [source('charger', 'post', '0', 28)] })
    expect(outcome).toMatchObject({ status: 'refused', parts: ['charger', 'battery'] })
    expect(run.counts).toMatchObject({ refused: 1, bySettle: 1 })
  })

  test('a value no part can have', () => {
    const run = new Campaign(feed)
    const outcome = run.solve(fault(feed, law('joint', 'post', 'load', { law: 'linear', g: -1 })))
    expect(outcome).toMatchObject({ status: 'refused', parts: ['joint'] })
  })

  test('a position the network does not have is the mistake of the caller', () => {
    const nowhere: NetworkFault = { id: 'nowhere', changes: [{ position: 9, element: resistor('x', 'post', '0', 1) }] }
    expect(() => new Campaign(feed).solve(nowhere)).toThrow("fault 'nowhere' changes element 9 of 4")
  })

  test('a level that the input meets exactly, where rounding would decide', () => {
    const half = network(
      [source('battery', 'post', '0', 24), resistor('upper', 'post', 'mid', 1), resistor('lower', 'mid', '0', 1)],
      [threshold('level', 'mid', 12, 6)],
      { insulation: 0 },
    )
    const run = new Campaign(half)
    expect(run.solve({ id: 'none', changes: [] }).status).toBe('settled')
    expect(run.counts.bySettle).toBe(1)
  })
})

/** A relay fed through its own rest contact when the fault puts it there; a sound one otherwise. */
const relay = network(
  [
    source('battery', 'post', '0', 24),
    resistor('feed', 'post', 'bus', 0.1),
    contact('self', 'bus', 'coil', 'never'),
    resistor('start', 'bus', 'coil', 0.1),
    resistor('winding', 'coil', '0', 100),
    contact('switched', 'bus', 'load', 'relay'),
    resistor('load', 'load', '0', 5),
  ],
  [{ type: 'imposed', id: 'never', value: false }, threshold('relay', 'coil', 15, 6)],
)

describe('relays are followed', () => {
  test('a shorted load drops the relay that feeds it: it chatters, and is named', () => {
    const run = new Campaign(relay)
    const outcome = run.solve(fault(relay, resistor('load', 'load', '0', 0.001)))
    expect(outcome).toEqual({ status: 'chatters', parts: ['relay'] })
    expect(run.counts).toMatchObject({ chatters: 1, byPath: 1 })
  })

  test('an open coil leaves its contact at rest, a welded contact holds', () => {
    const run = new Campaign(relay)
    expect(across(run, fault(relay, resistor('start', 'bus', 'coil', 1e12))).load).toBeLessThan(1e-3)
    const welded = fault(relay, resistor('start', 'bus', 'coil', 1e12), resistor('switched', 'bus', 'load', 0.01))
    expect(across(run, welded).load).toBeGreaterThan(23)
  })

  test('a rest contact in its own coil chatters as the full solve says', () => {
    const buzzer = fault(relay, restContact('start', 'bus', 'coil', 'relay'))
    expect(new Campaign(relay).solve(buzzer)).toEqual(settle(faulted(relay, buzzer)))
  })

  test('what the machine remembers and what is forced count', () => {
    const weak = fault(relay, resistor('start', 'bus', 'coil', 100))
    expect(across(new Campaign(relay), weak).load).toBeLessThan(1)
    expect(across(new Campaign(relay, { previous: { relay: true } }), weak).load).toBeGreaterThan(20)
    expect(across(new Campaign(relay, { forced: { relay: true } }), weak).load).toBeGreaterThan(20)
  })

  test('a drifted level, and an input that is stuck', () => {
    const run = new Campaign(relay)
    const drifted: NetworkFault = {
      id: 'drifted',
      changes: [],
      signals: [{ position: 1, signal: threshold('relay', 'coil', 30, 6) }],
    }
    expect(across(run, drifted).load).toBeLessThan(1)
    const stuck: NetworkFault = {
      id: 'stuck',
      changes: [{ position: place(relay, 'start'), element: resistor('start', 'bus', 'coil', 1e12) }],
      signals: [{ position: 0, signal: { type: 'imposed', id: 'never', value: true } }],
    }
    expect(across(run, stuck).load).toBeGreaterThan(20)
    expect(run.counts.bySettle).toBe(0)
  })
})

test('every part of a vehicle opened in turn ends as the full solve says, all by path', () => {
  const net = vehicle()
  const faults = net.elements.flatMap((element, position) =>
    element.type === 'law'
      ? [{ id: element.id, changes: [{ position, element: resistor(element.id, element.a, element.b, 1e12) }] }]
      : [],
  )
  let worst = 0
  const counts = campaign(net, faults, {
    visit: (outcome, of) => {
      const full = settle(faulted(net, of))
      expect(outcome.status).toBe(full.status)
      if (outcome.status !== 'settled' || full.status !== 'settled') return
      expect(outcome.bits).toEqual(full.bits)
      outcome.across.forEach((value, i) => {
        worst = Math.max(worst, Math.abs(value - full.point.across[i]))
      })
    },
  })
  expect(worst).toBeLessThan(1e-9 * 25.2)
  expect(counts).toMatchObject({ bySettle: 0, byPath: faults.length })
})
