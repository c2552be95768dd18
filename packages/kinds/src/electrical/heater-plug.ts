import { REFERENCE } from '@halfsplit/network'
import { DEAD_SHORT, GAP } from '../insulation.js'
import type { Builder, Kind, PartView } from '../kind.js'
import { beyondJoint } from '../severity.js'
import { live } from '../present.js'

/** Temperature at which its cold resistance is stated [K]. */
const AT_20 = 293.15

/** Coil and tube to the tip, as it cools towards the chamber [W/K], and the mass that glows [J/K]: 850 degC after some 10 s. Assumptions. */
const COOLING = 0.15
const MASS = 0.6

/** The glowing coil: its conductance falls as the tip gets hot, its heat goes into the tip, and from there into the chamber. */
function addCoil(part: PartView, make: Builder, terminal: string): void {
  const tip = make.inner('tip', 'thermal')
  const swollen = 1 + (part.fault('swollen_weak') ?? 0)
  const g = part.fault('open') ? GAP : 1 / (part.value('resistance') * swollen)
  make.add({
    type: 'law',
    id: 'coil',
    a: terminal,
    b: make.port('body'),
    law: { law: 'linear', g },
    gains: [{ of: 'g', node: tip, curve: { curve: 'resistor', reference: AT_20, alpha: part.value('coefficient') } }],
  })
  make.add({ type: 'heat', id: 'heat', of: `${part.name}:coil`, node: tip })
  const holds = part.setting('glow') === 'begins' ? { holds: part.imposed('temperature') } : {}
  make.add({ type: 'store', id: 'tip', a: tip, b: REFERENCE, charge: { charge: 'linear', capacity: MASS }, ...holds })
  make.conductance('cooling', tip, make.port('chamber'), COOLING)
}

/** Minutes and prices of the repairs are assumptions of the invented depot. */
export const heaterPlug: Kind = {
  name: 'heater-plug',
  title: 'heater plug',
  letter: 'E',
  symbol: 'heating element',
  about:
    'Glow plug. As its tip gets hot its resistance grows by about a third, so that the current falls in the first ten seconds.',
  incidence: 2,
  ports: [
    { name: 'feed', domain: 'electrical', about: 'terminal with its nut' },
    { name: 'body', domain: 'electrical', about: 'thread in the block' },
    { name: 'chamber', domain: 'thermal', about: 'what its tip warms', accessible: false },
  ],
  ratings: {
    resistance: { dimension: 'resistance', about: 'at 20 degC', default: '0.75 Ohm +- 5 %' },
    coefficient: { dimension: 'temperatureCoefficient', about: 'of its coil', default: '0.00044 K-1' },
    terminal: { dimension: 'resistance', about: 'nut and terminal', default: '3 mOhm', spread: 'factor' },
  },
  settings: {
    temperature: { about: 'of its tip where the glow begins', dimension: 'temperature', default: '20 degC' },
    glow: {
      about: 'tip as cold as imposed, or as hot as its current makes it in the end',
      words: ['begins', 'steady'],
      default: 'begins',
    },
  },
  build(part, make) {
    const terminal = make.inner('terminal', 'electrical')
    const joint = part.value('terminal') + (part.fault('terminal_or_bus_bar_resistance') ?? 0)
    make.conductance('terminal', make.port('feed'), terminal, 1 / joint)
    addCoil(part, make, terminal)
    make.conductance('shorted', terminal, make.port('body'), part.fault('short') ? DEAD_SHORT : 0)
  },
  modes: [
    { id: 'open', title: 'burnt out', share: 0.7, repair: 'replace' },
    {
      id: 'terminal_or_bus_bar_resistance',
      title: 'loose or burnt nut on its terminal',
      share: 0.18,
      severity: (part) => beyondJoint(part.value('terminal')),
      repair: 'nut',
    },
    { id: 'short', title: 'tip grounded', share: 0.08, repair: 'replace' },
    {
      id: 'swollen_weak',
      title: 'swollen, weak',
      share: 0.04,
      // Added resistance over the right one.
      severity: { dimension: 'fraction', scale: 'linear', nodes: [0.3, 0.6, 1] },
      repair: 'replace',
    },
  ],
  repairs: {
    replace: { title: 'replace the heater plug', minutes: 20, price: 18, disturbs: true },
    nut: { title: 'clean the terminal and tighten the nut of the heater plug', minutes: 8, price: 1, disturbs: true },
  },
  isolated: [{ title: 'resistance of the heater plug', red: 'feed', black: 'body', minutes: 4 }],
  hazards: [
    {
      title: 'hot',
      caution: 'The tip glows and stays hot for minutes; let it cool before the plug comes out.',
      present: live('feed', 'body'),
    },
    {
      title: 'fire',
      caution:
        'No starting fluid while heater plugs are in use: it burns in the inlet. The maker of the engine says what is allowed.',
      present: live('feed', 'body'),
    },
    {
      title: 'sparks',
      caution: 'The feed carries 60 A and its link 80 A: no tool from the bus bar to metal.',
      present: live('feed'),
    },
  ],
  load: { feed: 'feed', ground: 'body' },
  swaps: true,
}
