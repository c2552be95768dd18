import { parseSystem, type System } from '@halfsplit/system'

/** A work lamp that gives little to look at, so that jobs on it are worked in a moment. */
export const LAMP = `halfsplit: 1
machine: work lamp
invented: true
parts:
  BAT: { kind: battery }
  F1: { kind: fuse, rating: 10 A }
  S1: { kind: switch }
  E1: { kind: lamp, power: 55 W, voltage: 12 V }
  G1: { kind: ground }
joins:
  - [BAT.plus, F1.a]
  - [F1.b, S1.a]
  - [S1.b, E1.feed]
  - [E1.ground, G1.a]
  - [G1.b, BAT.minus]
tools: [multimeter]
states:
  off: { dead: true }
  on: { from: off, set: { S1: on } }
complaints:
  dark: { says: the lamp stays dark, shows: [{ in: on, at: E1.light, is: dark }] }
  dim: { says: the lamp is dim, shows: [{ in: on, at: E1.light, is: dim }] }
`

export const lamp = (): System => {
  const { system, issues } = parseSystem(LAMP, 'lamp.yaml')
  if (!system) throw new Error(issues.map(({ message }) => message).join('\n'))
  return system
}
