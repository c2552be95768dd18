import { describe, expect, test } from 'vitest'
import { NetworkError } from './errors.js'
import { probeValue } from './probe.js'
import { type Settled, type SettleOptions, settle } from './settle.js'
import { contact, diode, lamp, network, resistor, restContact, source, threshold } from './testing/notation.js'
import { vehicle } from './testing/vehicle.js'
import type { Network, Signal } from './types.js'

const settled = (net: Network, options?: SettleOptions): Settled => {
  const result = settle(net, options)
  if (result.status !== 'settled') throw new Error(`${result.status}: ${result.parts.join(', ')}`)
  return result
}

const volts = (net: Network, node: string, options?: SettleOptions) =>
  probeValue(settled(net, options), { across: { [node]: 1 } })

/** A relay that pulls in at 15 V and falls out at 6 V, fed at `supply` through `ohm`. */
const relay = (supply: number, ohm = 0.1): Network =>
  network(
    [
      source('battery', 'plus', '0', supply),
      resistor('feed', 'plus', 'coil', ohm),
      resistor('winding', 'coil', '0', 200),
      contact('contact', 'plus', 'load', 'K1'),
      resistor('load', 'load', '0', 10),
    ],
    [threshold('K1', 'coil', 15, 6)],
  )

describe('a relay', () => {
  test('pulls in from rest above its pull-in voltage and stays out below it', () => {
    expect(settled(relay(24)).state).toEqual({ K1: true })
    expect(settled(relay(12)).state).toEqual({ K1: false })
    expect(volts(relay(24), 'load')).toBeCloseTo(24 * (10 / 10.01), 9)
  })

  test('between drop-out and pull-in it keeps the state it had', () => {
    expect(settled(relay(12), { previous: { K1: true } }).state).toEqual({ K1: true })
    expect(settled(relay(12), { previous: { K1: false } }).state).toEqual({ K1: false })
    expect(settled(relay(5), { previous: { K1: true } }).state).toEqual({ K1: false })
  })

  test('tells by how much its threshold was passed, or missed, seen from its earlier state', () => {
    expect(settled(relay(24)).margins).toEqual([
      { signal: 'K1', before: false, overdrive: expect.closeTo(24 * (200 / 200.1) - 15, 7), level: 15 },
    ])
    const [kept] = settled(relay(12), { previous: { K1: true } }).margins
    expect(kept.overdrive).toBeCloseTo(6 - 12 * (200 / 200.1), 7)
  })

  test('held by force it shows the other branch', () => {
    expect(volts(relay(24), 'load', { forced: { K1: false } })).toBeCloseTo(0, 6)
  })

  test('whose own load pulls its coil down chatters, and the answer names it', () => {
    const net = relay(24, 40)
    net.elements = net.elements.map((element) => (element.id === 'contact' ? contact('contact', 'coil', 'load', 'K1') : element))
    expect(settle(net)).toEqual({ status: 'chatters', parts: ['K1'] })
  })

  test('fed through its own rest contact is a buzzer', () => {
    const net = network(
      [source('battery', 'plus', '0', 12), restContact('rest', 'plus', 'coil', 'K1'), resistor('winding', 'coil', '0', 80)],
      [threshold('K1', 'coil', 8, 3)],
    )
    expect(settle(net)).toEqual({ status: 'chatters', parts: ['K1'] })
  })

  test('a buzzer with a timer in the ring cycles: time has to answer', () => {
    const net = network(
      [source('battery', 'plus', '0', 12), restContact('rest', 'plus', 'coil', 'T1'), resistor('winding', 'coil', '0', 80)],
      [threshold('K1', 'coil', 8, 3), { type: 'TON', id: 'T1', of: 'K1', delay: 2 }],
    )
    expect(settle(net)).toEqual({ status: 'cycles', parts: ['K1', 'T1'] })
  })

  test('chatter in a hundred-node vehicle is named within a few milliseconds', () => {
    const net = vehicle()
    net.elements[1] = resistor('main', 'post', 'bus', 0.2)
    net.elements.push(resistor('starter', 'relay0.87', '0', 0.004))
    settle(net)
    const from = performance.now()
    const result = settle(net)
    expect(performance.now() - from).toBeLessThan(50)
    expect(result.status).toBe('chatters')
    expect(result.status === 'chatters' && result.parts).toContain('relay0')
  })
})

/** Two relays on one soft feed; each one's load pulls the shared feed down so far that the other can not hold. */
const pair = (softness: number): Network =>
  network(
    [
      source('battery', 'plus', '0', 24),
      resistor('feed', 'plus', 'shared', softness),
      resistor('winding1', 'shared', '0', 400),
      resistor('winding2', 'shared', '0', 400),
      contact('contact1', 'shared', 'load1', 'K1'),
      contact('contact2', 'shared', 'load2', 'K2'),
      resistor('load1', 'load1', '0', 10),
      resistor('load2', 'load2', '0', 10),
    ],
    [threshold('K1', 'shared', 15, 11), threshold('K2', 'shared', 15, 11)],
  )

describe('two gates that switch at once', () => {
  test('find a cycle no machine has; one at a time, either pulls in first and holds the other out: a race with both ends', () => {
    const result = settle(pair(8))
    expect(result).toEqual({
      status: 'race',
      parts: ['K1', 'K2'],
      ends: [
        { K1: true, K2: false },
        { K1: false, K2: true },
      ],
    })
  })

  test('where one of them wins either way, the false chatter resolves to that end', () => {
    // Both together fall out again; K1 alone holds, and K2 alone lets K1 in, whose load then drops K2.
    const net = network(
      [
        source('battery', 'plus', '0', 24),
        resistor('feed', 'plus', 'shared', 8),
        resistor('windings', 'shared', '0', 200),
        contact('contact1', 'shared', 'load1', 'K1'),
        contact('contact2', 'shared', 'load2', 'K2'),
        resistor('load1', 'load1', '0', 10),
        resistor('load2', 'load2', '0', 60),
      ],
      [threshold('K1', 'shared', 15, 12.3), threshold('K2', 'shared', 22, 12.2)],
    )
    expect(settled(net).state).toEqual({ K1: true, K2: false })
  })
})

describe('logic blocks', () => {
  const logic = (signals: Signal[]): Network => network([resistor('r', 'n', '0', 1)], signals)
  const imposed = (id: string, value: boolean): Signal => ({ type: 'imposed', id, value })

  test.each(['SR', 'RS'] as const)('%s keeps its state from one settling to the next', (type) => {
    const net = (set: boolean, reset: boolean) =>
      logic([imposed('s', set), imposed('r', reset), { type, id: 'latch', set: 's', reset: 'r' }])
    const on = settled(net(true, false)).state
    expect(on.latch).toBe(true)
    const kept = settled(net(false, false), { previous: on }).state
    expect(kept.latch).toBe(true)
    const off = settled(net(false, true), { previous: kept }).state
    expect(off.latch).toBe(false)
    expect(settled(net(false, false), { previous: off }).state.latch).toBe(false)
    expect(settled(net(true, true), { previous: off }).state.latch).toBe(type === 'SR')
  })

  test('timers at rest: TON and TOF follow their input, a pulse is over', () => {
    const timer = (type: 'TON' | 'TOF' | 'TP', id: string): Signal => ({ type, id, of: 'in', delay: 5 })
    const net = (value: boolean) => logic([imposed('in', value), timer('TON', 'a'), timer('TOF', 'b'), timer('TP', 'c')])
    expect(settled(net(true)).state).toEqual({ in: true, a: true, b: true, c: false })
    expect(settled(net(false), { previous: { a: true, b: true } }).state).toEqual({ in: false, a: false, b: false, c: false })
  })

  test('blocks listed before their inputs come to rest all the same', () => {
    const net = logic([
      { type: 'not', id: 'd', of: 'c' },
      { type: 'and', id: 'c', of: ['a', 'b'] },
      { type: 'or', id: 'b', of: ['a', 'zero'] },
      imposed('zero', false),
      imposed('a', true),
    ])
    expect(settled(net).state).toEqual({ a: true, zero: false, b: true, c: true, d: false })
  })

  test('a latch sees its inputs only once they are worked out, in whatever order blocks are listed', () => {
    const net = logic([
      { type: 'SR', id: 'latch', set: 'glitch', reset: 'zero' },
      { type: 'and', id: 'glitch', of: ['a', 'not_a'] },
      { type: 'not', id: 'not_a', of: 'a' },
      imposed('a', true),
      imposed('zero', false),
    ])
    const previous = { not_a: true }
    expect(settled(net, { previous }).state).toEqual({ a: true, not_a: false, glitch: false, zero: false, latch: false })
  })

  test('a held block stays what it is held at, and what reads it follows', () => {
    const net = logic([imposed('a', true), { type: 'not', id: 'n', of: 'a' }, { type: 'or', id: 'o', of: ['n'] }])
    expect(settled(net, { forced: { n: true } }).state).toEqual({ a: true, n: true, o: true })
  })

  test('a ring that never comes to rest is named, not returned as a state', () => {
    const result = settle(
      logic([imposed('a', true), { type: 'not', id: 'n', of: 'm' }, { type: 'and', id: 'm', of: ['a', 'n'] }]),
    )
    expect(result).toEqual({ status: 'chatters', parts: ['n', 'm'] })
  })
})

describe('what has no answer is named', () => {
  const error = (net: Network): NetworkError => {
    try {
      settle(net)
    } catch (thrown) {
      if (thrown instanceof NetworkError) return thrown
      throw thrown
    }
    throw new Error('nothing was thrown')
  }

  test('two sources that hold one point at two values, and only those two', () => {
    const net = network([
      source('G', 'c', '0', 5),
      source('A', 'a', '0', 12),
      source('B', 'b', 'a', 2),
      source('C', 'b', '0', 24),
    ])
    const { code, elements } = error(net)
    expect([code, elements.toSorted()]).toEqual(['SOURCES_CONFLICT', ['A', 'B', 'C']])
  })

  test('the same between floating points', () => {
    const net = network([source('A', 'a', 'b', 12), source('B', 'a', 'b', 24), resistor('r', 'a', '0', 1)])
    expect(error(net).elements.toSorted()).toEqual(['A', 'B'])
  })

  test('a source with both ends on one point', () => {
    expect(error(network([source('A', 'a', 'a', 12), resistor('r', 'a', '0', 1)])).code).toBe('SOURCES_CONFLICT')
  })

  test('equal sources in parallel are no conflict', () => {
    expect(volts(network([source('A', 'a', '0', 12), source('B', 'a', '0', 12), resistor('r', 'a', '0', 1)]), 'a')).toBe(12)
    const floating = [
      source('A', 'a', 'b', 12),
      source('B', 'a', 'b', 12),
      resistor('r', 'a', '0', 1),
      resistor('q', 'b', '0', 2),
    ]
    expect(volts(network(floating), 'a')).toBeCloseTo(4, 8)
  })

  test('a node that nothing holds, not even insulation', () => {
    const net = network(
      [source('battery', 'plus', '0', 12), contact('open', 'plus', 'tail', 'off'), resistor('r', 'tail', 'end', 5)],
      [{ type: 'imposed', id: 'off', value: false }],
      { insulation: 0 },
    )
    const result = settle(net)
    expect(result.status).toBe('no convergence')
    expect(result.status === 'no convergence' && ['tail', 'end']).toContain(result.status === 'no convergence' && result.node)
    expect(result.status === 'no convergence' && result.parts).toContain('r')
  })

  test.each<[string, Network, string]>([
    ['a negative resistance', network([source('A', 'a', '0', 12, -1)]), 'ELEMENT_VALUE'],
    ['a value that is no number', network([source('A', 'a', '0', Number.NaN)]), 'ELEMENT_VALUE'],
    ['no resistance at all in a law', network([resistor('R', 'a', '0', 0)]), 'ELEMENT_VALUE'],
    ['an unknown signal', network([contact('C', 'a', '0', 'K9')]), 'UNKNOWN_SIGNAL'],
    ['an unknown input', network([], [{ type: 'not', id: 'n', of: 'K9' }]), 'UNKNOWN_SIGNAL'],
    ['an unknown node', network([], [threshold('K1', 'nowhere', 2, 1)]), 'UNKNOWN_NODE'],
    [
      'a threshold that falls above where it rises',
      network([resistor('R', 'a', '0', 1)], [threshold('K1', 'a', 1, 2)]),
      'ELEMENT_VALUE',
    ],
    ['heat of nothing', network([{ type: 'heat', id: 'h', of: 'none', node: 'T' }]), 'UNKNOWN_ELEMENT'],
  ])('%s', (_, net, code) => {
    expect(error(net).code).toBe(code)
  })

  test('forcing or reading what does not exist', () => {
    expect(() => settle(relay(24), { forced: { K9: true } })).toThrow(NetworkError)
    expect(() => probeValue(settled(relay(24)), { across: { nowhere: 1 } })).toThrow(NetworkError)
    expect(() => probeValue(settled(relay(24)), { through: 'nothing' })).toThrow(NetworkError)
  })
})

describe('sources', () => {
  test('stack up, and a source turned round holds its other end', () => {
    const net = network([
      source('A', 'a', '0', 12),
      source('B', 'b', 'a', 12),
      source('C', '0', 'c', 5),
      resistor('r', 'b', 'c', 29),
    ])
    const result = settled(net)
    expect(probeValue(result, { across: { b: 1 } })).toBe(24)
    expect(probeValue(result, { across: { c: 1 } })).toBe(-5)
    for (const id of ['A', 'B', 'C']) expect(probeValue(result, { through: id })).toBeCloseTo(1, 6)
  })

  test('one that floats delivers what its loop takes', () => {
    const net = network([
      source('A', 'a', 'b', 12),
      resistor('r', 'a', 'c', 5),
      resistor('q', 'c', 'b', 1),
      resistor('g', 'b', '0', 10),
    ])
    expect(probeValue(settled(net), { through: 'A' })).toBeCloseTo(2, 7)
  })
})

test('a bridge of diodes, lamps in series and a floating source converge from rest', () => {
  const net = network([
    source('ac', 'p', 'q', 24, 0.1),
    diode('d1', 'p', 'plus'),
    diode('d2', 'q', 'plus'),
    diode('d3', 'minus', 'p'),
    diode('d4', 'minus', 'q'),
    lamp('l1', 'plus', 'm', 21, 12),
    lamp('l2', 'm', 'minus', 21, 12),
    resistor('g', 'minus', '0', 0.1),
  ])
  const across = probeValue(settled(net), { across: { plus: 1, minus: -1 } })
  expect(across).toBeGreaterThan(21)
  expect(across).toBeLessThan(23)
  expect(probeValue(settled(net), { across: { m: 1, minus: -1 } })).toBeCloseTo(across / 2, 6)
})

test('the same network settles to the same bits every time', () => {
  const first = settled(vehicle())
  expect(first.state).toMatchObject({ relay0: true, relay5: true })
  expect(settled(structuredClone(vehicle())).point.across).toEqual(first.point.across)
})
