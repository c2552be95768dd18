import { copperRatio } from '@halfsplit/core'
import { hissLook, left, orifice } from '../air/orifice.js'
import { DEAD_SHORT, GAP } from '../insulation.js'
import type { Builder, Kind, Look, Mode, PartView, SignalWords } from '../kind.js'
import { blockedSeverity, leakSeverity } from '../severity.js'
import { junction } from './diode.js'

/** What the 2/2 and the 3/2 valve share: one magnet, the same ratings, and every mode but that of the exhaust. */
export const VALVE_PORTS: Kind['ports'] = [
  { name: 'coil_a', domain: 'electrical', about: 'coil, feed side' },
  { name: 'coil_b', domain: 'electrical', about: 'coil, ground side' },
  { name: 'supply', domain: 'gas', about: 'air in' },
  { name: 'delivery', domain: 'gas', about: 'air to what it works' },
]

export const VALVE_RATINGS: Kind['ratings'] = {
  coil: { dimension: 'resistance', about: 'coil at 20 degC', default: '60 Ohm +- 8 %' },
  pull_in: { dimension: 'voltage', about: 'pulls in at 20 degC', default: '<= 18 V' },
  drop_out: { dimension: 'voltage', about: 'drops out at 20 degC', default: '>= 2.4 V' },
  passage: { dimension: 'sonicConductance', about: 'open, supply to delivery', default: '0.4 l/(s.bar)' },
}

export const VALVE_CHOICES: NonNullable<Kind['choices']> = {
  rest: { about: 'supply while the coil is dead', words: ['closed', 'open'], default: 'closed' },
  suppression: { about: 'built in across the coil, ring end at coil_a', words: ['none', 'diode'], default: 'none' },
}

export const VALVE_SETTINGS: NonNullable<Kind['settings']> = {
  temperature: { about: 'of the coil', dimension: 'temperature', default: '20 degC' },
}

/** Whether the coil is broken now: one variant only opens above a temperature. */
function coilOpen(part: PartView, side: string): boolean {
  const opensAt = part.fault(`${side}coil_opens_when_hot`)
  return part.fault(`${side}coil_open`) !== undefined || (opensAt !== undefined && part.temperature >= opensAt)
}

/**
 * The coil and what is across it. @returns the signal that says the magnet has pulled
 * @param side of a valve with two coils, `left_` or `right_`: before the names of its ports, modes, elements and signal
 */
export function addMagnet(part: PartView, make: Builder, side = ''): string {
  const hot = copperRatio(293.15, part.temperature)
  const open = coilOpen(part, side)
  const coil = part.value('coil') * hot * (1 - (part.fault(`${side}coil_partly_shorted`) ?? 0))
  const [a, b] = [make.port(`${side}coil_a`), make.port(`${side}coil_b`)]
  make.conductance(`${side}coil`, a, b, open ? GAP : 1 / coil)
  make.law(`${side}suppression`, b, a, junction(0.8, 1, part.word('suppression') === 'diode'))
  const shorted = part.fault(`${side}suppression_diode_shorted_or_reversed`)
  make.conductance(`${side}shorted`, a, b, shorted ? DEAD_SHORT : 0)
  // Referred to a cold coil: what counts is the current, volts over the copper's growth.
  return make.threshold(`${side}pulled`, a, b, open ? 0 : 1 / hot, part.value('pull_in'), part.value('drop_out'))
}

/** Whether the passage that the magnet opens is open, with the coil dead and with it pulled in. */
export function positions(part: PartView): { dead: boolean; pulled: boolean } {
  const open = (part.word('rest') === 'open') !== (part.fault('wrong_valve_or_ports_swapped') !== undefined)
  if (part.fault('sticks_at_rest')) return { dead: open, pulled: open }
  if (part.fault('sticks_operated')) return { dead: !open, pulled: !open }
  return { dead: open, pulled: !open }
}

/**
 * Passage from supply to delivery, and, where there is one, from delivery to the exhaust, which is open when the other is shut.
 * A blocked exhaust is shut at its inner end: what is trapped is the air of the delivery, not shared with an empty port.
 */
export function addPassages(part: PartView, make: Builder, pulled: string, exhaust?: string): void {
  const seat = part.fault('leaks_internally') ?? 0
  const clear = left(part.value('passage'), part.fault('filter_blocked'))
  const { dead, pulled: shifted } = positions(part)
  const law = (open: boolean) => orifice(open ? Math.max(clear, seat) : seat)
  make.gate('inlet', make.port('supply'), make.port('delivery'), law(shifted), law(dead), pulled)
  const out = (open: boolean) => (part.fault('exhaust_or_filter_blocked') ? orifice(0) : law(open))
  if (exhaust) make.gate('outlet', make.port('delivery'), exhaust, out(!shifted), out(!dead), pulled)
  make.law('leak', make.port('delivery'), make.air, orifice(part.fault('leaks_externally') ?? 0))
}

/** Opening temperatures of a coil that breaks when hot [K]: 57 to 78 degC, off round figures so that none is just at a state's. */
const OPENS_AT = [330.55, 337.45, 344.35, 351.25]

/** Modes of a coil by the table. @param side as of `addMagnet`   @param called it in titles   @param part of the table's shares */
export const coilModes = (side = '', called = 'coil', part = 1): readonly Mode[] => [
  { id: `${side}coil_open`, title: `${called} open`, share: 0.12 * part, repair: 'replace' },
  {
    id: `${side}coil_opens_when_hot`,
    title: `${called} opens when hot`,
    share: 0.05 * part,
    severity: { dimension: 'temperature', scale: 'linear', nodes: OPENS_AT },
    repair: 'replace',
  },
  {
    id: `${side}coil_partly_shorted`,
    title: `${called} partly shorted`,
    share: 0.06 * part,
    severity: { dimension: 'fraction', scale: 'linear', nodes: [0.25, 0.4, 0.55, 0.7] },
    repair: 'replace',
  },
  {
    id: `${side}suppression_diode_shorted_or_reversed`,
    title: `diode across the ${called} shorted or reversed`,
    share: 0.03 * part,
    when: { choice: 'suppression', word: 'diode' },
    repair: 'replace',
  },
]

export const VALVE_MODES: readonly Mode[] = [
  { id: 'sticks_at_rest', title: 'sticks, does not shift', share: 0.2, repair: 'clean' },
  { id: 'sticks_operated', title: 'sticks, does not go back', share: 0.1, repair: 'clean' },
  { id: 'leaks_internally', title: 'leaks past its seat', share: 0.24, severity: leakSeverity(), repair: 'clean' },
  { id: 'leaks_externally', title: 'leaks outside', share: 0.09, severity: leakSeverity(), repair: 'replace' },
  ...coilModes(),
  {
    id: 'wrong_valve_or_ports_swapped',
    title: 'wrong valve: open for closed at rest',
    share: 0.02,
    byHand: true,
    repair: 'replace',
  },
]

/** The filter of a 2/2 valve stands where a 3/2 valve has its exhaust. */
export const filterMode: Mode = {
  id: 'filter_blocked',
  title: 'filter blocked',
  share: 0.09,
  severity: blockedSeverity(),
  repair: 'clean',
}

export const VALVE_REPAIRS: Kind['repairs'] = {
  replace: { title: 'replace the solenoid valve', minutes: 30, price: 85, disturbs: true },
  clean: { title: 'open and clean the solenoid valve', minutes: 40, price: 12, disturbs: true },
}

/** A valve that sticks does not click, whatever its magnet does; the pull on a screwdriver tells the two apart. */
export const VALVE_LOOKS: readonly Look[] = [
  {
    name: 'click',
    about: 'valve shifted, heard or felt when the coil is switched',
    words: ['at rest', 'shifted'],
    levels: [[0.4, 0.6]],
    quantity: (part) => {
      if (part.fault('sticks_at_rest')) return { probe: { through: 'coil' }, scale: 0 }
      return { signal: 'pulled' }
    },
    by: 'technician',
    minutes: 1,
  },
  {
    name: 'magnet',
    about: 'pull of the coil on a screwdriver held to it',
    words: ['none', 'pulls'],
    // Share of the current that shifts it cold: a third is hardly felt, two thirds are plain. An assumption.
    levels: [[0.2, 0.5]],
    quantity: (part) => ({ probe: { through: 'coil' }, scale: part.value('coil') / part.value('pull_in'), absolute: true }),
    by: 'technician',
    minutes: 1,
  },
  hissLook('leak', 'air at the body of the valve', 'leak'),
]

/** A valve that sticks stays where it is, whatever its magnet does. */
export function valveWords(part: PartView): { pulled: SignalWords } {
  const stuck = part.fault('sticks_at_rest') !== undefined || part.fault('sticks_operated') !== undefined
  const but = stuck ? ', the valve sticks' : ''
  return { pulled: { on: `pulls in${but}`, off: `lets go${but}` } }
}

export const VALVE_ISOLATED: NonNullable<Kind['isolated']> = [
  { title: 'coil resistance', red: 'coil_a', black: 'coil_b', polarity: true, minutes: 5 },
]
