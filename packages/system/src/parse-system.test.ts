import { settle } from '@halfsplit/network'
import { describe, expect, it } from 'vitest'
import { parseSystem, Realiser } from './index.js'

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

const good = (text: string) => {
  const { system, issues } = parseSystem(text, 'lamp.yaml')
  expect(issues).toEqual([])
  if (!system) throw new Error('no system')
  return system
}

describe('parseSystem', () => {
  it('a small description becomes parts, nodes and states', () => {
    const system = good(SMALLEST)
    expect([...system.parts.keys()]).toEqual(['BAT', 'F1', 'S1', 'H1', '1', '2', '3'])
    expect(system.nodeOf.get('BAT.minus')).toBe('0')
    expect(system.nodeOf.get('H1.ground')).toBe('0')
    expect(system.nodeOf.get('1.a')).toBe('BAT.plus')
    expect(system.portsAt.get('F1.b')).toEqual(['F1.b', '2.a'])
    expect(system.states.get('on')?.impose).toEqual([{ part: 'S1', setting: 'position', value: 'on', sd: 0 }])
    expect(system.parts.get('3')?.ratings.get('length')?.value).toBe(4)
    expect(system.parts.get('3')?.frame).toBe('0')
  })

  it('its lamp is lit when the switch is on', () => {
    const system = good(SMALLEST)
    const settings = new Map([...system.defaults, ['S1.position', 'on']])
    const { network } = new Realiser(system).realise({ settings })
    const settled = settle(network)
    if (settled.status !== 'settled') throw new Error(settled.status)
    const feed = settled.point.across[settled.circuit.index.get('H1.feed') as number]
    expect(feed).toBeGreaterThan(12.4)
    expect(feed).toBeLessThan(12.6)
  })
})
