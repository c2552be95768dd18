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

describe('what hangs together across domains is followed too', () => {
  const opened = (net: Network): NetworkFault[] =>
    net.elements.flatMap((element, position) =>
      element.type === 'law' && element.law.law === 'linear'
        ? [1e-12, 1e3].map((g) => ({
            id: `${element.id} ${g}`,
            changes: [{ position, element: { ...element, law: { law: 'linear', g } } }],
          }))
        : [],
    )

  /** Largest difference from the full solve over all faults, against the ordinary size of each node's quantity. */
  function farthest(net: Network, faults: NetworkFault[]) {
    let worst = 0
    const counts = campaign(net, faults, {
      visit: (outcome, of) => {
        const full = settle(faulted(net, of))
        expect(outcome.status).toBe(full.status)
        if (outcome.status !== 'settled' || full.status !== 'settled') return
        const { scale } = full.circuit
        outcome.across.forEach((value, i) => {
          worst = Math.max(worst, Math.abs(value - full.point.across[i]) / (scale[i] + Math.abs(value)))
        })
      },
    })
    return { worst, counts }
  }

  test('a motor, its shaft and the heat of its brush joint, the motor itself at fault as well', () => {
    const motor = (constant: number, resistance: number): Element => ({
      type: 'motor',
      id: 'motor',
      a: 'brush',
      b: 'minus',
      shaft: 'shaft',
      constant,
      resistance,
    })
    const net = network(
      [
        source('battery', 'post', '0', 24, 0.02),
        resistor('feed', 'post', 'brush', 0.05),
        motor(0.1, 0.3),
        resistor('strap', 'minus', '0', 0.01),
        law('drag', 'shaft', '0', { law: 'drag', dry: 0.4, viscous: 0.002, smooth: 1 }),
        { type: 'heat', id: 'warmth', of: 'feed', node: 'joint' },
        law('cooling', 'joint', '0', { law: 'linear', g: 2 }),
      ],
      [],
      { domains: { shaft: 'rotation', joint: 'thermal' } },
    )
    const faults = [
      ...opened(net),
      fault(net, motor(0.05, 0.3)),
      fault(net, motor(0.1, 0.6)),
      fault(net, source('battery', 'post', '0', 12, 0.02)),
    ]
    const { worst, counts } = farthest(net, faults)
    expect(worst).toBeLessThan(1e-10)
    // Where the motor stops, dry friction takes more steps than are granted without damping.
    expect(counts.bySettle).toBeLessThanOrEqual(2)
  })

  test('a source between two nodes that nothing else holds', () => {
    const net = network([
      source('cell', 'plus', 'minus', 9),
      resistor('load', 'plus', 'minus', 50),
      resistor('ground', 'minus', '0', 10),
      resistor('leak', 'plus', '0', 1e4),
    ])
    const faults = [...opened(net), fault(net, source('cell', 'plus', 'minus', 7))]
    const { worst, counts } = farthest(net, faults)
    expect(worst).toBeLessThan(1e-10)
    expect(counts.bySettle).toBe(0)
  })

  test('air through a regulator into leaks', () => {
    const orifice = (id: string, a: string, b: string, c: number): Element => law(id, a, b, { law: 'orifice', c, b: 0.3 })
    const air: Element = { type: 'across', id: 'air', a: 'open', b: '0', value: 1.013e5, resistance: 0 }
    const net = network(
      [
        air,
        source('tank', 'tank', '0', 9e5),
        law('regulator', 'tank', 'line', { law: 'regulator', c: 2e-8, b: 0.3, set: 7e5, band: 3e4, creep: 1e-5 }),
        orifice('hose', 'line', 'cylinder', 5e-9),
        orifice('leak', 'cylinder', 'open', 1e-10),
      ],
      [],
      { domain: 'gas', insulation: 1e-16, rest: 1.013e5 },
    )
    const leaks = [1e-12, 1e-9, 2e-8].map((c) => fault(net, orifice('leak', 'cylinder', 'open', c)))
    const { worst } = farthest(net, [
      ...leaks,
      fault(net, source('tank', 'tank', '0', 6e5)),
      fault(net, orifice('hose', 'line', 'cylinder', 1e-13)),
    ])
    expect(worst).toBeLessThan(1e-9)
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
