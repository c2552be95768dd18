import { copperRatio } from '@halfsplit/core'
import { GAP } from '../insulation.js'
import type { Builder, Kind, PartView } from '../kind.js'
import { beyondJoint } from '../severity.js'
import { addMachine, machineModes, turningLook } from './machine.js'
import { live, turning } from '../present.js'

/** Both windings have about the same turns, so their currents add up to the pull. Summed by conductances this much smaller. */
const SUMMING = 1e-4

/** Growth of the engine's drag as it gets colder [1/K], so that a starter of 320 A at 20 degC takes 450 A at -15 degC. An assumption. */
const COLD_OIL = 0.012

/** Drag of the starter by itself, spinning free, over that with the engine. An assumption: about 100 A. */
const SPINNING = 0.3

const AT_20 = 293.15

/** One half of a starter is its motor, one half its solenoid, each with the incidence of the table: twice the shares of either. */
const HALF = 0.5

/**
 * Solenoid with a pull-in winding to the motor terminal and a hold winding to the case. Once its contact has closed, both ends of the
 * pull-in winding are at the battery, and only the hold winding keeps it in: without it the solenoid chatters.
 * @returns the signal that says it is in
 */
function addSolenoid(part: PartView, make: Builder, terminal: string, ground: string): string {
  const hot = copperRatio(AT_20, part.temperature)
  const signal = make.port('signal')
  const winding = (rating: 'pull' | 'hold') => (part.fault(`${rating}_winding_open`) ? GAP : 1 / part.value(rating))
  const [pull, hold] = [winding('pull'), winding('hold')]
  make.conductance('pull', signal, terminal, pull / hot)
  make.conductance('hold', signal, ground, hold / hot)
  // The node between carries the mean of both winding volts, weighted as their currents are.
  const sum = make.inner('sum', 'electrical')
  make.conductance('sum_pull', sum, terminal, pull * SUMMING)
  make.conductance('sum_hold', sum, ground, hold * SUMMING)
  const sound = 1 / part.value('pull') + 1 / part.value('hold')
  const held = 1 / part.value('hold') / sound
  const scale = (pull + hold) / sound / hot
  return make.threshold('pulled', signal, sum, scale, part.value('pull_in'), held * part.value('drop_out'))
}

/** Minutes and prices of the repairs are assumptions of the invented depot. */
export const starter: Kind = {
  name: 'starter',
  title: 'starter with solenoid',
  letter: 'M',
  symbol: 'starter motor with solenoid',
  about: 'Starter motor with the engine it turns, and its solenoid with pull-in and hold winding.',
  // Its motor as a motor of the table, its solenoid as a relay without coil feed, socket and suppression.
  incidence: 1.5 * (1 + 0.48),
  ports: [
    { name: 'battery', domain: 'electrical', about: 'main terminal, always live' },
    { name: 'signal', domain: 'electrical', about: 'solenoid terminal' },
    { name: 'ground', domain: 'electrical', about: 'engine block its case is bolted to' },
  ],
  ratings: {
    voltage: { dimension: 'voltage', about: 'at its terminals while it cranks at 20 degC', default: '20 V' },
    current: { dimension: 'current', about: 'while it cranks at 20 degC', default: '320 A +- 10 %' },
    speed: { dimension: 'angularSpeed', about: 'of the engine while it cranks at 20 degC', default: '200 rpm' },
    winding: { dimension: 'resistance', about: 'winding and brushes', default: '15 mOhm +- 15 %' },
    pull: { dimension: 'resistance', about: 'pull-in winding', default: '0.55 Ohm +- 8 %' },
    hold: { dimension: 'resistance', about: 'hold winding', default: '2.2 Ohm +- 8 %' },
    pull_in: { dimension: 'voltage', about: 'at the solenoid terminal, pulls in at 20 degC', default: '<= 15 V' },
    drop_out: { dimension: 'voltage', about: 'at the solenoid terminal, lets go at 20 degC', default: '>= 4 V' },
    contact: { dimension: 'resistance', about: 'main contact', default: '0.4 mOhm', spread: 'factor' },
    mounting: { dimension: 'resistance', about: 'case to engine block', default: '0.2 mOhm', spread: 'factor' },
  },
  settings: { temperature: { about: 'of engine and starter', dimension: 'temperature', default: '20 degC' } },
  build(part, make) {
    const terminal = make.inner('terminal', 'electrical')
    const body = make.inner('case', 'electrical')
    const loose = part.fault('high_resistance_in_its_leads') ?? 0
    make.conductance('mounting', body, make.port('ground'), 1 / (part.value('mounting') + loose))
    const pulled = addSolenoid(part, make, terminal, body)
    const closed = 1 / (part.value('contact') + (part.fault('high_contact_resistance') ?? 0))
    make.gate('contact', make.port('battery'), terminal, closed, part.fault('contacts_welded') ? closed : GAP, pulled)
    const duty = {
      voltage: part.value('voltage'),
      current: part.value('current'),
      speed: part.value('speed'),
      winding: part.value('winding'),
    }
    const stiff = Math.exp(COLD_OIL * (AT_20 - part.temperature))
    const copper = copperRatio(AT_20, part.temperature)
    addMachine(part, make, terminal, body, duty, part.fault('drive_part') ? SPINNING : stiff, copper)
  },
  modes: [
    ...machineModes(HALF, (part) => part.value('winding')),
    {
      id: 'high_resistance_in_its_leads',
      title: 'bad ground through its mounting',
      share: 0.18 * HALF,
      severity: (part) => beyondJoint(part.value('mounting')),
      repair: 'mounting',
    },
    { id: 'drive_part', title: 'pinion or drive broken, spins without effect', share: 0.06 * HALF, repair: 'overhaul' },
    {
      id: 'high_contact_resistance',
      title: 'main contact burnt',
      share: 0.28 * HALF,
      severity: (part) => beyondJoint(part.value('contact')),
      repair: 'solenoid',
    },
    { id: 'contacts_welded', title: 'main contact welded', share: 0.12 * HALF, repair: 'solenoid' },
    { id: 'pull_winding_open', title: 'pull-in winding open', share: 0.04 * HALF, repair: 'solenoid' },
    { id: 'hold_winding_open', title: 'hold winding open', share: 0.04 * HALF, repair: 'solenoid' },
  ],
  repairs: {
    overhaul: { title: 'overhaul the starter: brushes, bearings, drive', minutes: 150, price: 90 },
    replace: { title: 'replace the starter', minutes: 90, price: 420, disturbs: true },
    solenoid: { title: 'replace the solenoid of the starter', minutes: 100, price: 95 },
    mounting: { title: 'clean the mounting face and bolts of the starter', minutes: 60, price: 2, disturbs: true },
  },
  looks: [
    turningLook('cranks', 'engine with the key at start', ['no', 'slow', 'normal']),
    {
      name: 'click',
      about: 'solenoid of the starter, heard with the key at start',
      words: ['silent', 'clicks'],
      levels: [[0.4, 0.6]],
      quantity: () => ({ signal: 'pulled' }),
      by: 'operator',
      minutes: 0.5,
    },
  ],
  says: () => ({ pulled: { on: 'pulls in', off: 'lets go' } }),
  isolated: [{ title: 'windings of the solenoid', red: 'signal', black: 'ground', minutes: 8 }],
  jumper: { across: [['battery', 'signal']] },
  hazards: [
    {
      title: 'cranks',
      caution: 'Fuel off or lever in neutral, brake on, nobody at belts, fan and tracks.',
      present: turning('shaft'),
    },
    {
      title: 'sparks',
      caution: 'Its main cable is live whatever the key says; take off the negative clamp before work on it.',
      present: live('battery'),
    },
  ],
  load: { feed: 'battery', ground: 'ground' },
}
