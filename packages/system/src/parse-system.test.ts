import { printIssue } from '@halfsplit/core'
import { settle } from '@halfsplit/network'
import { describe, expect, it } from 'vitest'
import { nodeAt, parseSystem, Realiser, recipe, type System } from './index.js'

const SMALLEST = `halfsplit: 1
parts:
  BAT: { kind: battery }
  F1: { kind: fuse, rating: 5 A }
  S1: { kind: switch }
  H1: { kind: lamp, power: 10 W }
wires:
  1: { from: BAT.plus, to: F1.a }
  2: { from: F1.b, to: S1.a, length: 3 m }
  3: { from: S1.b, to: H1.feed, length: 4 m }
joins:
  - [H1.ground, frame]
states:
  off: { dead: true }
  on: { from: off, set: { S1: on } }
`

function good(text: string): System {
  const { system, issues } = parseSystem(text, 'folder/lamp.yaml')
  expect(issues.map((one) => printIssue(one))).toEqual([])
  if (!system) throw new Error('no system')
  return system
}

/** Voltage of a point in a state of the healthy machine [V]. */
function voltage(system: System, state: string, point: string): number {
  const settings = new Map(system.defaults)
  for (const step of recipe(system, state)) for (const one of step) settings.set(`${one.part}.${one.setting}`, one.value)
  const settled = settle(new Realiser(system).realise({ settings }).network)
  if (settled.status !== 'settled') throw new Error(settled.status)
  return settled.point.across[settled.circuit.index.get(nodeAt(system, point)) as number]
}

describe('a small description', () => {
  it('becomes parts, nodes and states', () => {
    const system = good(SMALLEST)
    expect(system.name).toBe('lamp')
    expect([...system.parts.keys()]).toEqual(['BAT', 'F1', 'S1', 'H1', '1', '2', '3'])
    expect(nodeAt(system, 'BAT.minus')).toBe('0')
    expect(nodeAt(system, 'H1.ground')).toBe('0')
    expect(nodeAt(system, '1.a')).toBe('BAT.plus')
    expect(system.portsAt.get('F1.b')).toEqual(['F1.b', '2.a'])
    expect(system.states.get('on')?.impose).toEqual([{ part: 'S1', setting: 'position', value: 'on', sd: 0 }])
    expect(system.parts.get('3')?.ratings.get('length')?.value).toBe(4)
    expect(system.parts.get('3')?.given).toEqual(new Set(['length']))
    expect(system.parts.get('3')?.frame).toBe('0')
    expect(system.overloads.get('F1')?.limit).toBeCloseTo(7.5, 9)
    expect(system.defaults.get('S1.position')).toBe('off')
  })

  it('has a lamp that is lit when the switch is on', () => {
    const system = good(SMALLEST)
    expect(voltage(system, 'off', 'H1.feed')).toBeLessThan(0.01)
    expect(voltage(system, 'on', 'H1.feed')).toBeGreaterThan(12.4)
  })

  it('gives every part the place in the file where it is named', () => {
    expect(good(SMALLEST).parts.get('H1')?.position).toEqual({ file: 'folder/lamp.yaml', line: 6, column: 3, length: 2 })
  })
})

describe('the frame and the reference', () => {
  const SERIES = `halfsplit: 1
parts:
  B1: { kind: battery }
  B2: { kind: battery }
  G1: { kind: ground }
  H1: { kind: lamp }
wires:
  10: { from: B1.minus, to: B2.plus, size: 50 mm2 }
  11: { from: B2.minus, to: G1.a, size: 50 mm2 }
  12: { from: B1.plus, to: H1.feed }
  13: { from: H1.ground, to: G1.b, frame: H1.ground }
states:
  on: {}
`

  it('of two batteries in a row the lower minus is the reference, whatever their order', () => {
    const system = good(SERIES)
    expect(nodeAt(system, 'B2.minus')).toBe('0')
    expect(voltage(system, 'on', 'B1.plus')).toBeCloseTo(25.1, 0)
    expect(nodeAt(good(SERIES.replaceAll('B1', 'B9').replaceAll('B2', 'B1').replaceAll('B9', 'B2')), 'B1.minus')).toBe('0')
  })

  it('the frame is the battery minus unless the description or a part names another point', () => {
    const plain = good(SERIES)
    const named = good(`${SERIES}frame: G1.b\n`)
    expect(plain.parts.get('12')?.frame).toBe('0')
    expect(plain.parts.get('13')?.frame).toBe('H1.ground')
    expect(named.parts.get('12')?.frame).toBe('G1.b')
    expect(nodeAt(named, 'B2.minus')).toBe('0')
  })
})

describe('connectors and hoses', () => {
  const system = good(`halfsplit: 1
parts:
  BAT: { kind: battery }
  H1: { kind: lamp }
  AIR: { kind: air-supply }
  R1: { kind: regulator }
connectors:
  X7: { pins: 2, contact: 8 mOhm, exposure: 3, place: back }
wires:
  1: { from: BAT.plus, to: X7.1/a }
  2: { from: X7.1/b, to: H1.feed }
  3: { from: H1.ground, to: X7.2/b }
  4: { from: X7.2/a, to: frame }
hoses:
  P1: { from: AIR.out, to: R1.in, bore: 8 mm }
places:
  back: { minutes: 3, remove: cover }
`)

  it('a connector becomes a pin of each number, with its ratings, exposure and place', () => {
    const pin = system.parts.get('X7.2')
    expect(pin).toMatchObject({ connector: { name: 'X7', pin: 2 }, exposure: 3, place: 'back' })
    expect(pin?.kind.name).toBe('pin')
    expect(pin?.ratings.get('contact')?.value).toBeCloseTo(0.008, 12)
    expect(nodeAt(system, 'X7.2/a')).toBe('X7.2/a')
    expect(nodeAt(system, '2.a')).toBe('X7.1/b')
  })

  it('a hose is a part with two ends', () => {
    expect(system.parts.get('P1')?.kind.name).toBe('hose')
    expect(nodeAt(system, 'P1.b')).toBe(nodeAt(system, 'R1.in'))
  })
})

describe('assemblies', () => {
  const system = good(`halfsplit: 1
parts:
  BAT: { kind: battery }
  LEFT: { kind: cluster, exposure: 2, place: back }
  RIGHT: { kind: cluster }
assemblies:
  cluster:
    ports: { feed: PAIR.feed, ground: G1.b }
    parts:
      PAIR: { kind: pair, exposure: 3 }
      G1: { kind: ground, place: inside }
    joins:
      - [PAIR.ground, G1.a]
  pair:
    ports: { feed: T1.feed, ground: T2.ground }
    parts:
      T1: { kind: lamp, power: 5 W }
      T2: { kind: lamp, power: 21 W }
    wires:
      9: { from: T1.feed, to: T2.feed }
    joins:
      - [T1.ground, T2.ground]
joins:
  - [BAT.plus, LEFT.feed, RIGHT.feed]
  - [LEFT.ground, RIGHT.ground, frame]
places:
  back: { minutes: 1 }
  inside: { minutes: 2 }
states:
  on: {}
`)

  it('their parts stand under the name of each use, and take place and exposure over', () => {
    expect([...system.parts.keys()].filter((name) => name.startsWith('LEFT.'))).toEqual([
      'LEFT.PAIR.T1',
      'LEFT.PAIR.T2',
      'LEFT.PAIR.9',
      'LEFT.G1',
    ])
    expect(system.parts.get('LEFT.PAIR.T1')).toMatchObject({ exposure: 6, place: 'back' })
    expect(system.parts.get('LEFT.G1')).toMatchObject({ exposure: 2, place: 'inside' })
    expect(system.parts.get('RIGHT.PAIR.T1')).toMatchObject({ exposure: 3, place: undefined })
  })

  it('their ports stand for points inside', () => {
    expect(nodeAt(system, 'LEFT.PAIR.T1.feed')).toBe('BAT.plus')
    expect(nodeAt(system, 'RIGHT.PAIR.9.a')).toBe('BAT.plus')
    expect(nodeAt(system, 'LEFT.G1.b')).toBe('0')
    expect(voltage(system, 'on', 'LEFT.PAIR.T2.feed')).toBeGreaterThan(12.4)
  })
})

describe('states, complaints, tools and repairs', () => {
  const text = `${SMALLEST.replace('power: 10 W', 'power: 10 W, repairs: { replace: { minutes: 9, price: 4.5 } }')}
  bright: { from: on, minutes: 0.5, hazards: [hot] }
complaints:
  dark: { says: it stays dark, shows: [{ in: on, at: H1, is: dark }] }
sequence:
  - Switch on: the lamp lights
  - "Switch off: dark"
tools:
  - current clamp
  - { name: gauge, measures: pressure, ranges: [{ to: 10 bar, resolution: 0.1 bar, accuracy: 1.6 % + 1 }] }
`
  const system = good(text)

  it('are read as written', () => {
    expect(system.states.get('bright')).toMatchObject({ from: 'on', minutes: 0.5, hazards: ['hot'], dead: false })
    expect(system.complaints[0]).toMatchObject({ id: 'dark', words: 'it stays dark' })
    expect(system.complaints[0].shows).toEqual([{ state: 'on', part: 'H1', look: 'light', word: 'dark' }])
    expect(system.sequence).toEqual(['Switch on: the lamp lights', 'Switch off: dark'])
    expect(system.parts.get('H1')?.repairs.replace).toMatchObject({ minutes: 9, price: 4.5 })
  })

  it('a meter of the shop has its figures in SI', () => {
    expect(system.meters[1]).toMatchObject({
      name: 'gauge',
      quantity: 'absolutePressure',
      zero: 101325,
      ranges: [{ top: 1e6, resolution: 1e4, percent: 1.6, counts: 1 }],
    })
  })
})

describe('the content hash', () => {
  it('does not change with line ends, trailing spaces or a byte-order mark', () => {
    const spoken = good(`\ufeff${SMALLEST.replaceAll('\n', '  \r\n')}`)
    expect(spoken.hash).toBe(good(SMALLEST).hash)
    expect(spoken.hash).toMatch(/^[0-9a-f]{16}$/)
  })

  it('changes with a rating', () => {
    expect(good(SMALLEST.replace('10 W', '11 W')).hash).not.toBe(good(SMALLEST).hash)
  })
})
