import { GAP } from '../insulation.js'
import type { Builder, Kind, PartView } from '../kind.js'
import { logSeverity } from '../severity.js'

/** A powered module goes dead again, and an input off again, at these shares of the volts that turn them on. Assumptions. */
const HOLDS_AT = 0.8
const RELEASES_AT = 0.6

/** Reference of its timer [V] behind its own resistance [ohm]. An assumption. */
const REFERENCE_VOLTS = 5
const REFERENCE_OHM = 10

/** Resistances that charge its timer and empty it again [ohm]: 1 MOhm and 10 kOhm. Assumptions. */
const CHARGES = 1e6
const EMPTIES = 1e4

/** The timer is let go at so much less than it takes to hold it [V]. An assumption. */
const HYSTERESIS = 0.02

/**
 * The sender of 2.5 kOhm at 20 degC (beta 3550 K) behind 5 kOhm stands at 3.61 V at -15 degC, less 0.7 V at which no glow is needed; the timer
 * climbs so far, 58.1 % of its reference, in -ln(1 - 0.581) of its time constants. Warmer senders are reached sooner: 20 s become 12 s at
 * 0 degC and 5 s at 20 degC. Checked in preheat-module.test.ts
 */
const CONSTANTS_AT_COLD = 0.871

/** Time constant of the timer [s]. */
const timeConstant = (part: PartView): number =>
  (part.value('glow') / CONSTANTS_AT_COLD) * (1 + (part.fault('timing_or_threshold_drifted') ?? 0))

/** Signal of an input that is on above its level against the module's ground. */
function input(part: PartView, make: Builder, port: 'key' | 'crank'): string {
  const level = part.value('input_level')
  make.conductance(`${port}_input`, make.port(port), make.port('ground'), 1 / part.value('input_resistance'))
  return make.threshold(`${port}_on`, make.port(port), make.port('ground'), 1, level, RELEASES_AT * level)
}

/**
 * A capacitor that charges from key on, and empties with the key off. At rest it is as full as it would be `elapsed` after the key was
 * turned; in time it starts there and goes on.
 */
function addTimer(part: PartView, make: Builder, rail: string, keyed: string): string {
  const ground = make.port('ground')
  const timer = make.inner('timer', 'electrical')
  const constant = timeConstant(part)
  make.gate('charge', rail, timer, 1 / CHARGES, GAP, keyed)
  make.gate('empty', timer, ground, GAP, 1 / EMPTIES, keyed)
  const holds = REFERENCE_VOLTS * -Math.expm1(-part.imposed('elapsed') / constant)
  const charge = { charge: 'linear', capacity: constant / CHARGES } as const
  make.add({ type: 'store', id: 'timer', a: timer, b: ground, charge, holds })
  return timer
}

/** Signals that say that the relay and the lamp are on. */
function stages(part: PartView, make: Builder): { relay: string; lamp: string } {
  const [feed, ground, sensor] = [make.port('feed'), make.port('ground'), make.port('sensor')]
  const supply = part.value('supply')
  const alive = part.fault('cracked_joint') ? 0 : 1
  const powered = make.threshold('powered', feed, ground, alive, supply, HOLDS_AT * supply)
  const [keyed, cranked] = [input(part, make, 'key'), input(part, make, 'crank')]
  const source = make.inner('source', 'electrical')
  const rail = make.inner('rail', 'electrical')
  make.add({ type: 'across', id: 'source', a: source, b: ground, value: REFERENCE_VOLTS, resistance: REFERENCE_OHM })
  make.gate('rail', source, rail, 1 / REFERENCE_OHM, GAP, powered)
  make.conductance('pull_up', rail, sensor, 1 / part.value('pull_up'))
  const warm = part.value('warm')
  const timer = addTimer(part, make, rail, keyed)
  const early = make.threshold('early', sensor, timer, 1, warm, warm - HYSTERESIS)
  const cold = make.threshold('cold', sensor, ground, 1, warm, warm - HYSTERESIS)
  const after = make.signal('after', (id) => ({ type: 'TOF', id, of: cranked, delay: part.value('after') }))
  const lamp = make.signal('lamp_on', (id) => ({ type: 'and', id, of: [powered, keyed, early] }))
  const held = make.signal('held', (id) => ({ type: 'and', id, of: [powered, keyed, cold, after] }))
  return { lamp, relay: make.signal('relay_on', (id) => ({ type: 'or', id, of: [lamp, held] })) }
}

/** Minutes and prices of the repairs are assumptions of the invented depot. */
export const preheatModule: Kind = {
  name: 'preheat-module',
  title: 'preheat timer',
  letter: 'K',
  symbol: 'time relay',
  about:
    'Glows for a time that its sender sets, with a lamp; then while the engine is cranked and for half a minute after. It gives its feed to relay and lamp.',
  // Of "control module", without: missing feed, ground or input, which is not the module.
  incidence: 0.5 * 0.55,
  ports: [
    { name: 'feed', domain: 'electrical', about: 'its own supply' },
    { name: 'ground', domain: 'electrical', about: 'its own ground' },
    { name: 'key', domain: 'electrical', about: 'live with the key on' },
    { name: 'crank', domain: 'electrical', about: 'live while the engine is cranked' },
    { name: 'sensor', domain: 'electrical', about: 'temperature sender to ground' },
    { name: 'relay', domain: 'electrical', about: 'to the coil of the power relay' },
    { name: 'lamp', domain: 'electrical', about: 'to the preheat lamp' },
  ],
  ratings: {
    glow: { dimension: 'time', about: 'of glow before starting at -15 degC', default: '20 s +- 8 %' },
    after: { dimension: 'time', about: 'of glow after cranking', default: '30 s +- 10 %' },
    warm: { dimension: 'voltage', about: 'at its sensor pin, below which it does not glow', default: '0.7 V +- 4 %' },
    pull_up: { dimension: 'resistance', about: 'from its 5 V to the sensor pin', default: '5 kOhm +- 1 %' },
    supply: { dimension: 'voltage', about: 'it needs to work', default: '<= 7 V' },
    input_level: { dimension: 'voltage', about: 'at an input that counts as on', default: '4 V +- 15 %' },
    input_resistance: { dimension: 'resistance', about: 'from each input to ground', default: '22 kOhm +- 10 %' },
    quiescent: { dimension: 'resistance', about: 'of its own consumption', default: '2 kOhm +- 20 %' },
    stage: { dimension: 'resistance', about: 'of an output stage when on', default: '0.5 Ohm +- 30 %' },
  },
  settings: { elapsed: { about: 'time since the key was turned on', dimension: 'time', default: '0 s' } },
  build(part, make) {
    const feed = make.port('feed')
    make.conductance('own', feed, make.port('ground'), part.fault('cracked_joint') ? GAP : 1 / part.value('quiescent'))
    const closed = 1 / part.value('stage')
    const on = stages(part, make)
    for (const output of ['relay', 'lamp'] as const) {
      const open = part.fault(`${output}_output_open`)
      const shorted = part.fault(`${output}_output_shorted`)
      make.gate(output, feed, make.port(output), open ? GAP : closed, shorted ? closed : GAP, on[output])
    }
    const wet = part.fault('water_inside')
    make.conductance('wet', feed, make.port('relay'), wet ? 1 / wet : 0)
  },
  modes: [
    { id: 'relay_output_open', title: 'output stage to the relay open', share: 0.13, repair: 'replace' },
    { id: 'lamp_output_open', title: 'output stage to the lamp open', share: 0.04, repair: 'replace' },
    { id: 'relay_output_shorted', title: 'output stage to the relay shorted', share: 0.08, repair: 'replace' },
    { id: 'lamp_output_shorted', title: 'output stage to the lamp shorted', share: 0.02, repair: 'replace' },
    {
      id: 'timing_or_threshold_drifted',
      title: 'time drifted',
      share: 0.12,
      // Added time over the right one: 6 s for 20 s is -0.7.
      severity: { dimension: 'fraction', scale: 'linear', nodes: [-0.7, -0.5, 0.6, 1.5] },
      repair: 'replace',
    },
    { id: 'cracked_joint', title: 'cracked joint, comes and goes', share: 0.1, intermittent: true, repair: 'replace' },
    {
      id: 'water_inside',
      title: 'water inside',
      share: 0.06,
      severity: logSeverity('resistance', 30, 30e3, 5),
      repair: 'replace',
    },
  ],
  repairs: { replace: { title: 'replace the preheat timer', minutes: 15, price: 130, disturbs: true } },
  says: () => ({
    powered: { on: 'comes alive', off: 'goes dead' },
    lamp_on: { on: 'switches its lamp on', off: 'switches its lamp off: ready' },
    relay_on: { on: 'switches the power relay on', off: 'switches the power relay off' },
  }),
  jumper: { across: [['feed', 'relay']] },
  load: { feed: 'feed', ground: 'ground' },
  unplugs: true,
  swaps: true,
}
