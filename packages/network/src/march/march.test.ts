import { describe, expect, test } from 'vitest'
import { probeValue } from '../probe.js'
import { settle } from '../settle.js'
import { contact, diode, drive, law, network, resistor, restContact, source, store, threshold } from '../testing/notation.js'
import type { Element, Network, Signal } from '../types.js'
import { march } from './march.js'
import type { Instant, March, MarchOptions } from './outcome.js'

const volts = (instant: Instant, node: string) => probeValue(instant, { across: { [node]: 1 } })

function run(net: Network, options: MarchOptions, ...later: [from: number, net: Network][]): March {
  return march([{ from: 0, network: net }, ...later.map(([from, next]) => ({ from, network: next }))], options)
}

const on = (id: string, value: boolean): Signal => ({ type: 'imposed', id, value })

describe('stores', () => {
  // v = V (1 - exp(-t/RC)): any textbook of circuits.
  test('a capacitor charges through a resistor as the exponential says', () => {
    const net = network([source('u', 'p', '0', 12), resistor('r', 'p', 'c', 47e3), store('c', 'c', 10e-6, 0)], [], {
      insulation: 0,
    })
    const { samples, status } = run(net, { until: 2, samples: [0, 0.1, 0.47, 1, 2] })
    expect(status).toBe('done')
    for (const one of samples) expect(volts(one, 'c')).toBeCloseTo(12 * -Math.expm1(-one.time / 0.47), 4)
  })

  test('the current of an inductance rises by L/R, and its coil throws its voltage across a diode when let go', () => {
    const coil: Element = { type: 'inertance', id: 'coil', a: 'm', b: '0', inertance: 0.2, resistance: 60 }
    const net = (closed: boolean) =>
      network([source('u', 'p', '0', 24), contact('s', 'p', 'm', 'key'), coil, diode('d', '0', 'm')], [on('key', closed)])
    const { samples } = run(
      net(false),
      { until: 0.06, samples: [0.005, 0.02, 0.03001, 0.04] },
      [0.001, net(true)],
      [0.03, net(false)],
    )
    const current = samples.map((one) => probeValue(one, { through: 'coil' }))
    expect(current[0]).toBeCloseTo((24 / 60.01) * -Math.expm1(-(0.004 * 60.01) / 0.2), 4)
    expect(current[1]).toBeCloseTo((24 / 60.01) * -Math.expm1(-(0.019 * 60.01) / 0.2), 4)
    expect(volts(samples[2], 'm')).toBeLessThan(-0.6)
    expect(volts(samples[2], 'm')).toBeGreaterThan(-1.2)
    expect(current[3]).toBeLessThan(0.02)
  })

  test('a store starts at what it holds, or at rest', () => {
    const net = network([source('u', 'p', '0', 10), resistor('r', 'p', 'm', 1), resistor('s', 'm', '0', 1), store('c', 'm', 1)])
    expect(volts(run(net, { until: 1, samples: [0] }).samples[0], 'm')).toBeCloseTo(5, 8)
  })

  test('a source that changes evenly is followed', () => {
    const ramp: Element = { type: 'across', id: 'u', a: 'p', b: '0', value: 0, resistance: 0, rate: 2 }
    const net = network([ramp, resistor('r', 'p', 'c', 1), store('c', 'c', 1, 0)])
    const { last } = run(net, { until: 5 })
    // Lag of a first-order element behind a ramp: 2 (t - 1 + exp(-t)).
    expect(volts(last, 'c')).toBeCloseTo(2 * (5 - 1 + Math.exp(-5)), 5)
  })

  test('a motor runs up by its mechanical time constant', () => {
    const net = network(
      [
        source('u', 'p', '0', 12),
        { type: 'motor', id: 'm', a: 'p', b: '0', shaft: 'w', constant: 0.05, resistance: 0.5 },
        store('j', 'w', 1e-3, 0),
      ],
      [],
      { insulation: 1e-12, domains: { w: 'rotation' } },
    )
    const tau = (1e-3 * 0.5) / 0.05 ** 2
    const { samples } = run(net, { until: 5 * tau, samples: [tau, 3 * tau] })
    expect(volts(samples[0], 'w')).toBeCloseTo(240 * -Math.expm1(-1), 2)
    expect(volts(samples[1], 'w')).toBeCloseTo(240 * -Math.expm1(-3), 2)
  })

  test('a pump lifts a loaded cylinder at its flow, and stalls at the relief when it is at its end', () => {
    const bar = 1e5
    const net = network(
      [
        { type: 'across', id: 'speed', a: 'w', b: '0', value: 200, resistance: 0 },
        { type: 'across', id: 'tank', a: 'tank', b: '0', value: bar, resistance: 0 },
        { type: 'pump', id: 'pump', a: 'tank', b: 'p', shaft: 'w', displacement: 3e-7 },
        law('relief', 'p', 'tank', { law: 'relief', set: 170 * bar, g: 1e-11, leak: 0 }),
        { type: 'across', id: 'load', a: 'p', b: 'bottom', value: 30 * bar, resistance: 0 },
        {
          type: 'store',
          id: 'ram',
          a: 'bottom',
          b: 'tank',
          charge: { charge: 'stroke', volume: 3e-4, band: bar, capacity: 1e-13 },
          holds: 0,
        },
      ],
      [],
      { insulation: 1e-20, rest: 1e5, domains: { w: 'rotation', tank: 'liquid', p: 'liquid', bottom: 'liquid' } },
    )
    const { samples } = run(net, { until: 8, samples: [2, 8] })
    const moved = (one: Instant) => (volts(one, 'bottom') - bar) / bar
    expect(moved(samples[0])).toBeCloseTo((200 * 3e-7 * 2) / 3e-4, 3)
    expect(probeValue(samples[0], { through: 'pump' })).toBeCloseTo(6e-5, 9)
    expect(volts(samples[1], 'p') / bar).toBeCloseTo(1 + 170 + 6e-5 / 1e-11 / bar, 1)
  })
})

describe('levels', () => {
  /** A heated mass with a thermostat: 40 W while colder than `fall`, off from `rise` on, in a room at 0; left on it would come to 40. */
  const heated = (rise = 22, fall = 20) =>
    network(
      [
        store('mass', 't', 100, 21),
        resistor('loss', 't', '0', 1),
        {
          type: 'gate',
          id: 'heat',
          a: '0',
          b: 't',
          on: { law: 'linear', g: 0 },
          off: { law: 'delivery', flow: 40, most: 1e6, band: 1 },
          signal: 'warm',
        },
      ],
      [threshold('warm', 't', rise, fall)],
      { domain: 'thermal', insulation: 1e-12 },
    )

  test('a thermostat cycles with the period of its two exponentials', () => {
    const { events, period, status } = run(heated(), { until: 2000 })
    const up = 100 * Math.log((40 - 20) / (40 - 22))
    const down = 100 * Math.log(22 / 20)
    expect(status).toBe('done')
    const times = events.map((event) => event.time)
    expect(times[2] - times[0]).toBeCloseTo(up + down, 5)
    expect(period?.length).toBeCloseTo(up + down, 5)
    expect(period?.signals).toEqual(['warm'])
    expect(events[0].rate).toBeCloseTo((40 - 22) / 100, 4)
  })

  test('it stops at the period when asked', () => {
    const { status, end } = run(heated(), { until: 1e6, stopWhenPeriodic: true })
    expect(status).toBe('periodic')
    expect(end).toBeLessThan(200)
  })

  test('halving the tolerance moves an event by less than ten times the tolerance over its rate of crossing', () => {
    for (const tolerance of [1, 0.1, 1e-2, 1e-3]) {
      const [one, half] = [tolerance, tolerance / 2].map((each) => run(heated(), { until: 300, tolerance: each }).events)
      one.forEach((event, i) => {
        // The tolerance is in millikelvins.
        expect(Math.abs(event.time - half[i].time)).toBeLessThan((10 * tolerance * 1e-3) / Math.abs(event.rate as number))
      })
    }
  })

  test('a rise over a level and back within what would be one step is seen', () => {
    // Two capacitors in a row: the second rises to 0.25 V at 1 s and falls again, e^-t and e^-2t making t-scales of seconds.
    const net = network(
      [store('a', 'a', 1, 1), resistor('r', 'a', 'b', 1), store('b', 'b', 1, 0), resistor('s', 'b', '0', 1)],
      [threshold('seen', 'b', 0.27, 0.26)],
      { insulation: 0 },
    )
    const { events } = run(net, { until: 1000, tolerance: 1 })
    expect(events.map((event) => event.on)).toEqual([true, false])
  })

  test('a level all but reached is listed as a graze', () => {
    const net = (rise: number) =>
      network(
        [store('a', 'a', 1, 1), resistor('r', 'a', 'b', 1), store('b', 'b', 1, 0), resistor('s', 'b', '0', 1)],
        [threshold('near', 'b', rise, rise - 0.05)],
        { insulation: 0 },
      )
    const top = run(net(1), { until: 20 }).highest.b
    const grazed = run(net(top + 1e-3), { until: 20 })
    expect(grazed.events).toEqual([])
    expect(grazed.grazes.map((graze) => graze.signal)).toEqual(['near'])
    expect(grazed.grazes[0].overdrive).toBeGreaterThan(-2e-3)
    expect(run(net(top + 0.02), { until: 20 }).grazes).toEqual([])
  })

  test('levels of two quantities crossed close together come in their order', () => {
    const net = network(
      [store('a', 'a', 1, 0), drive('i', 'a', '0', 1), store('b', 'b', 1, 0), drive('j', 'b', '0', 1.0001)],
      [threshold('first', 'b', 5, 0), threshold('second', 'a', 5, 0)],
      { insulation: 0 },
    )
    const { events } = run(net, { until: 10 })
    expect(events.map((event) => event.signal)).toEqual(['first', 'second'])
    expect(events[0].time).toBeCloseTo(5 / 1.0001, 8)
    expect(events[1].time).toBeCloseTo(5, 8)
  })
})

describe('chatter', () => {
  test('a relay that cuts its own coil is said to chatter, with the period of an armature', () => {
    const buzzer = network(
      [source('u', 'p', '0', 12), restContact('k', 'p', 'm', 'pulled'), resistor('coil', 'm', '0', 80), store('t', 't', 1, 0)],
      [threshold('pulled', 'm', 8, 4)],
    )
    const { status, parts, period, end } = run(buzzer, { until: 3600 })
    expect(status).toBe('chatters')
    expect(parts).toEqual(['pulled'])
    expect(end).toBe(0)
    expect(period?.length).toBeCloseTo(0.01, 6)
  })

  test('a fast cycle is not ground through for an hour', () => {
    const fast = network(
      [
        source('u', 'p', '0', 12),
        restContact('k', 'p', 'm', 'full', 10),
        store('c', 'm', 1e-3, 0),
        resistor('load', 'm', '0', 100),
      ],
      [threshold('full', 'm', 8, 7)],
    )
    const { status, events, period, end } = run(fast, { until: 3600 })
    expect(status).toBe('chatters')
    expect(period?.length).toBeLessThan(0.05)
    expect(events.length).toBeLessThan(200)
    expect(end).toBeLessThan(10)
  })

  test('a relay that two feeds hold in turn comes to one end though all at once would cycle', () => {
    const net = network(
      [
        source('u', 'p', '0', 12),
        restContact('a', 'p', 'x', 'two'),
        resistor('ra', 'x', '0', 80),
        restContact('b', 'p', 'y', 'one'),
        resistor('rb', 'y', '0', 80),
        store('t', 't', 1, 0),
        drive('i', 't', '0', 1),
      ],
      [threshold('one', 'x', 8, 4), threshold('two', 'y', 8, 4)],
    )
    expect(run(net, { until: 1 }).status).toBe('done')
  })
})

describe('timers', () => {
  const timed = (type: 'TON' | 'TOF' | 'TP', key: boolean) =>
    network([source('u', 'p', '0', 1), resistor('r', 'p', '0', 1)], [on('key', key), { type, id: 'out', of: 'key', delay: 3 }])
  const out = (march: March) => march.events.filter((event) => event.signal === 'out').map(({ time, on: is }) => [time, is])

  // Timing diagrams of IEC 61131-3 for TON, TOF and TP (from memory).
  test.each([
    [
      'TON',
      [
        [13, true],
        [20, false],
      ],
    ],
    [
      'TOF',
      [
        [10, true],
        [23, false],
      ],
    ],
    [
      'TP',
      [
        [10, true],
        [13, false],
      ],
    ],
  ] as const)('%s follows an input that is on from 10 s to 20 s', (type, expected) => {
    const { events, ...rest } = run(timed(type, false), { until: 30 }, [10, timed(type, true)], [20, timed(type, false)])
    expect(out({ events, ...rest } as March)).toEqual(expected)
  })

  test('an input shorter than the delay leaves an on-delay off and gives a whole pulse', () => {
    expect(out(run(timed('TON', false), { until: 30 }, [10, timed('TON', true)], [12, timed('TON', false)]))).toEqual([])
    expect(out(run(timed('TP', false), { until: 30 }, [10, timed('TP', true)], [12, timed('TP', false)]))).toEqual([
      [10, true],
      [13, false],
    ])
  })

  test('an off-delay starts anew when its input comes back', () => {
    const run_ = run(
      timed('TOF', true),
      { until: 30 },
      [10, timed('TOF', false)],
      [12, timed('TOF', true)],
      [14, timed('TOF', false)],
    )
    expect(out(run_)).toEqual([[17, false]])
  })
})

describe('what a march is asked', () => {
  test('legs that do not follow each other are refused', () => {
    const net = network([resistor('r', 'a', '0', 1)])
    expect(() => march([{ from: 1, network: net }], { until: 2 })).toThrow('legs that begin at 0 s')
    expect(() => march([], { until: 2 })).toThrow('legs that begin at 0 s')
  })

  test('left alone it comes to what settle finds', () => {
    const net = network([
      source('u', 'p', '0', 12),
      resistor('r', 'p', 'm', 2),
      diode('d', 'm', 'c'),
      store('c', 'c', 0.1),
      resistor('l', 'c', '0', 5),
    ])
    const rest = settle(net)
    const start: Network = {
      ...net,
      elements: net.elements.map((element) => (element.id === 'c' ? store('c', 'c', 0.1, 0) : element)),
    }
    const { last } = run(start, { until: 60 })
    if (rest.status !== 'settled') throw new Error(rest.status)
    for (const node of ['p', 'm', 'c']) expect(volts(last, node)).toBeCloseTo(probeValue(rest, { across: { [node]: 1 } }), 6)
  })

  test('contacts and stores keep what they had from leg to leg', () => {
    const latch = (key: boolean) =>
      network(
        [store('c', 'c', 1, 5), resistor('r', 'c', '0', 10)],
        [on('key', key), on('stop', false), { type: 'SR', id: 'run', set: 'key', reset: 'stop' }],
      )
    const { events, last } = run(latch(false), { until: 3 }, [1, latch(true)], [2, latch(false)])
    expect(events.map(({ signal, on: is }) => [signal, is])).toEqual([
      ['key', true],
      ['run', true],
      ['key', false],
    ])
    expect(volts(last, 'c')).toBeCloseTo(5 * Math.exp(-0.3), 6)
  })
})
