import { type Law, REFERENCE } from '@halfsplit/network'
import type { Builder, Kind, PartView } from '../kind.js'
import { logSeverity } from '../severity.js'
import { live, turning } from '../present.js'

/** Temperature at which its regulated voltage is stated [K]. */
const AT_20 = 293.15

/** Volts at its lamp terminal that excite it, and share of its current at cut-in. Assumptions: a lamp of 3 W leaves about 1.5 V there. */
const EXCITES = { rise: 0.7, fall: 0.35 } as const
const AT_CUT_IN = 0.3

/** It falls below its cut-in speed at this share of it. An assumption. */
const FALLS_AT = 0.85

/** Diodes to the lamp terminal, closed and open [S]. An assumption. */
const TRIO = 5

/** What one phase less leaves of its current: 55 of 90 A. Common practice, no source. */
const ONE_PHASE_LESS = 0.6

/** How far it charges above its set point with the regulator shorted [V]. An assumption. */
const UNREGULATED = 4

/** Largest current it drives, up to the voltage it regulates to over the last `droop`. */
function output(part: PartView, on: boolean): Law {
  const slope = 1 + part.value('coefficient') * (part.temperature - AT_20)
  const most = part.value('set') * slope + (part.fault('overcharges') ? UNREGULATED : 0)
  const belt = 1 - (part.fault('belt_or_pulley_slips') ?? 0)
  const phases = part.fault('rectifier_diode_open') ? ONE_PHASE_LESS : 1
  return { law: 'delivery', flow: on ? part.value('current') * belt * phases : 0, most, band: part.value('droop') }
}

/** Signal that it charges: excited by its lamp or by speed alone, until it comes to a stop. */
function charging(part: PartView, make: Builder): string {
  const [shaft, lamp, ground] = [make.port('shaft'), make.port('lamp'), make.port('ground')]
  const from = (name: string, speed: number) => make.threshold(name, shaft, REFERENCE, 1, speed, FALLS_AT * speed)
  const turning = from('turning', part.value('cut_in'))
  const fast = from('fast', part.value('self_excites'))
  const sound = part.fault('no_charge') ? 0 : 1
  const fed = make.threshold('fed', lamp, ground, sound, EXCITES.rise, EXCITES.fall)
  const excited = make.signal('excited', (id) => ({ type: 'and', id, of: [turning, fed] }))
  const starts = make.signal('starts', (id) => ({ type: 'or', id, of: [excited, fast] }))
  const stops = make.signal('stops', (id) => ({ type: 'not', id, of: turning }))
  const latch = make.signal('latch', (id) => ({ type: 'RS', id, set: starts, reset: stops }))
  const able = make.signal('able', (id) => ({ type: 'imposed', id, value: sound === 1 }))
  return make.signal('charges', (id) => ({ type: 'and', id, of: [latch, able] }))
}

/** Minutes and prices of the repairs are assumptions of the invented depot. */
export const alternator: Kind = {
  name: 'alternator',
  title: 'alternator with regulator',
  letter: 'G',
  symbol: 'alternator with rectifier and regulator',
  about:
    'Excited through its lamp, or by speed alone. Its current grows with the speed, its voltage stops at what the regulator is set to.',
  // Without: no excitation and drop in output cable or ground, which are wires, lamps and joints of their own.
  incidence: 2 * 0.6,
  ports: [
    { name: 'output', domain: 'electrical', about: 'B+ stud' },
    { name: 'ground', domain: 'electrical', about: 'case on its bracket' },
    { name: 'lamp', domain: 'electrical', about: 'D+: charge lamp, running signal' },
    { name: 'shaft', domain: 'rotation', about: 'crankshaft that its belt runs on', accessible: false },
  ],
  ratings: {
    current: { dimension: 'current', about: 'at full speed', default: '90 A +- 5 %' },
    set: { dimension: 'voltage', about: 'regulated, at 20 degC', default: '14.2 V +- 1 %' },
    coefficient: { dimension: 'temperatureCoefficient', about: 'of that voltage', default: '-0.0017 K-1' },
    droop: { dimension: 'voltage', about: 'from no load to full load', default: '0.2 V' },
    rotor: { dimension: 'resistance', about: 'field winding with brushes', default: '5 Ohm +- 8 %' },
    cut_in: { dimension: 'angularSpeed', about: 'of the crankshaft, from which it charges', default: '700 rpm' },
    full: { dimension: 'angularSpeed', about: 'of the crankshaft, at its full current', default: '2200 rpm' },
    self_excites: { dimension: 'angularSpeed', about: 'of the crankshaft, from which it needs no lamp', default: '1800 rpm' },
  },
  settings: { temperature: { about: 'of its regulator', dimension: 'temperature', default: '20 degC' } },
  build(part, make) {
    const [out, ground, lamp] = [make.port('output'), make.port('ground'), make.port('lamp')]
    const charges = charging(part, make)
    const [from, to] = [part.value('cut_in'), part.value('full')]
    make.add({
      type: 'gate',
      id: 'stator',
      a: ground,
      b: out,
      on: output(part, true),
      off: output(part, false),
      signal: charges,
      gains: [{ of: 'flow', node: make.port('shaft'), curve: { curve: 'ramp', from, to, low: AT_CUT_IN, high: 1 } }],
    })
    make.conductance('rotor', lamp, ground, part.fault('no_charge') ? 0 : 1 / part.value('rotor'))
    make.gate('trio', out, lamp, TRIO, 0, charges)
    const leak = part.fault('rectifier_diode_leaking')
    make.conductance('leak', out, lamp, leak ? 1 / leak : 0)
    make.signal('rough', (id) => ({ type: 'imposed', id, value: part.fault('bearing') !== undefined }))
  },
  modes: [
    { id: 'no_charge', title: 'brushes or regulator open, does not charge', share: 0.16, repair: 'regulator' },
    { id: 'overcharges', title: 'regulator shorted, charges too high', share: 0.08, repair: 'regulator' },
    {
      id: 'belt_or_pulley_slips',
      title: 'belt slips',
      share: 0.18,
      // Share of its current that is lost.
      severity: { dimension: 'fraction', scale: 'linear', nodes: [0.3, 0.5, 0.7, 0.9] },
      repair: 'belt',
    },
    { id: 'rectifier_diode_open', title: 'rectifier diode open', share: 0.09, repair: 'rectifier' },
    {
      id: 'rectifier_diode_leaking',
      title: 'rectifier diode leaks',
      share: 0.05,
      severity: logSeverity('resistance', 20, 2e3, 5),
      repair: 'rectifier',
    },
    { id: 'bearing', title: 'bearing rough', share: 0.04, repair: 'bearing' },
  ],
  repairs: {
    regulator: { title: 'replace the regulator with its brushes', minutes: 45, price: 65 },
    belt: { title: 'replace and tighten the belt of the alternator', minutes: 25, price: 20 },
    rectifier: { title: 'replace the rectifier of the alternator', minutes: 90, price: 80 },
    bearing: { title: 'renew the bearings of the alternator', minutes: 120, price: 45 },
  },
  looks: [
    {
      name: 'noise',
      about: 'bearings of the alternator, heard with the engine running',
      words: ['quiet', 'rough'],
      levels: [[0.4, 0.6]],
      quantity: () => ({ signal: 'rough' }),
      by: 'technician',
      minutes: 2,
    },
  ],
  says: () => ({ charges: { on: 'begins to charge', off: 'stops charging' } }),
  hazards: [
    {
      title: 'starts by itself',
      caution: 'Keep hands, sleeves and leads off the belt while the engine can run.',
      present: turning('shaft'),
    },
    {
      title: 'sparks',
      caution: 'Its stud is live with everything off: negative clamp off first. Never open the battery switch while it charges.',
      present: live('output', 'ground'),
    },
  ],
}
