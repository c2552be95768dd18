import { type Kind, KINDS } from '@halfsplit/kinds'

/** Air vessel that drains into the open through a laminar leak: its gauge pressure falls by e in `constant`. For tests. */
const vessel: Kind = {
  ...(KINDS.get('fitting') as Kind),
  name: 'vessel',
  title: 'vessel',
  ports: [{ name: 'out', domain: 'gas', about: 'outlet' }],
  ratings: { constant: { dimension: 'time', about: 'time in which it drains', default: '100 s' } },
  settings: { pressure: { about: 'to start from', dimension: 'absolutePressure', default: '8 bar' } },
  build(part, make) {
    const capacity = 1e-6
    const out = make.port('out')
    make.add({
      type: 'store',
      id: 'volume',
      a: out,
      b: '0',
      charge: { charge: 'linear', capacity },
      holds: part.imposed('pressure'),
    })
    make.conductance('drain', out, make.air, part.fault('blocked') ? 0 : capacity / part.value('constant'))
  },
  modes: [{ id: 'blocked', title: 'drain blocked', share: 1, repair: 'seal' }],
  repairs: { seal: { title: 'clean the drain', minutes: 10, price: 1 } },
  looks: [],
  hazards: [],
}

export const VESSEL_KINDS: ReadonlyMap<string, Kind> = new Map([...KINDS, ['vessel', vessel]])

/** A vessel with a low-pressure switch that feeds a relay and, by way of a delay, a lamp; a temperature switch in a bath feeds another. */
export const VESSEL = `halfsplit: 1
machine: Air alarm of Heron
invented: true
parts:
  BAT: { kind: battery }
  F1: { kind: fuse, rating: 5 A }
  S1: { kind: switch }
  V1: { kind: vessel }
  P1: { kind: pressure-switch, action: opens_rising, trip: 75 psi +- 2 psi, reset: 60 psi +- 2 psi }
  K1: { kind: relay, coil: 90 Ohm +- 10 % }
  T1: { kind: delay-module, delay: 10 s +- 10 % }
  H1: { kind: lamp, power: 10 W }
  H2: { kind: lamp, power: 10 W }
  COOL: { kind: coolant }
  B1: { kind: temperature-switch, trip: 90 degC +- 2.5 K, reset: 83 degC +- 2.5 K }
joins:
  - [BAT.plus, F1.a]
  - [F1.b, S1.a]
  - [S1.b, P1.a, K1.common, T1.feed, B1.a]
  - [P1.b, K1.coil_a]
  - [K1.work, T1.input]
  - [T1.output, H1.feed]
  - [B1.b, H2.feed]
  - [V1.out, P1.pressure]
  - [COOL.liquid, B1.sense]
  - [K1.coil_b, T1.ground, H1.ground, H2.ground, BAT.minus, frame]
states:
  parked: { about: key off, dead: true, set: { V1.pressure: 0 bar } }
  on: { from: parked, set: { S1: on, V1.pressure: 8 bar } }
  warm: { from: on, set: { COOL.temperature: 86 degC } }
  hot: { from: warm, set: { COOL.temperature: 95 degC } }
  cooling: { from: hot, set: { COOL.temperature: 86 degC } }
  low: { from: on, set: { V1.pressure: 3.5 bar } }
scenarios:
  drain:
    about: the air bleeds away and the coolant warms
    from: on
    for: 5 min
    drive: { COOL.temperature: { 1 min: 20 degC, 4 min: to 100 degC } }
    watch: [V1.out, into H1.feed, COOL.liquid, H1.light]
  held:
    from: on
    for: 2 min
    drive: { V1.pressure: { 0 min: 8 bar, 1 min: to 3 bar }, K1.temperature: { 10 s: 20 degC, 70 s: to 80 degC }, S1: { 90 s: off } }
`
