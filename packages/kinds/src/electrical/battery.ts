import { GAP } from '../insulation.js'
import type { Kind, PartView } from '../kind.js'
import { beyondJoint, logSeverity } from '../severity.js'

/** A cell of a lead battery at rest [V], common practice, no source: 12.6 V in six cells. */
const CELL = 2.1

/** Share of its rest voltage an aged battery loses, once its added resistance is far beyond `KNEE` [ohm]; an assumption. */
const LOST = 0.06
const KNEE = 0.05

/** Voltage at rest and internal resistance. While the engine runs the alternator holds the voltage, whatever the battery is like. */
function source(part: PartView): { value: number; resistance: number } {
  if (part.setting('engine') === 'running') {
    return { value: part.value('charging_voltage'), resistance: part.value('charging_resistance') }
  }
  const aged = part.fault('capacity_lost') ?? 0
  const kept = 1 - (LOST * aged) / (aged + KNEE)
  const dead = part.fault('cell_shorted') === undefined ? 0 : CELL
  return { value: part.value('voltage') * kept - dead, resistance: part.value('resistance') + aged }
}

/** Minutes and prices of the repairs are assumptions of the invented depot. */
export const battery: Kind = {
  name: 'battery',
  title: 'battery with clamps',
  letter: 'G',
  symbol: 'battery',
  about: 'Starting battery, or two in series as one; while the engine runs, with what the alternator makes of it.',
  // Without: discharged by something else, series pair unequal.
  incidence: 5 * 0.84,
  ports: [
    { name: 'plus', domain: 'electrical', about: 'positive cable, beyond its clamp' },
    { name: 'minus', domain: 'electrical', about: 'negative cable' },
  ],
  ratings: {
    voltage: { dimension: 'voltage', about: 'at rest, charged, no load', default: '12.6 V +- 2 %' },
    charging_voltage: { dimension: 'voltage', about: 'held by the alternator while the engine runs', default: '13.9 V +- 2 %' },
    resistance: { dimension: 'resistance', about: 'internal', default: '6 mOhm +- 30 %' },
    charging_resistance: { dimension: 'resistance', about: 'of battery and alternator together', default: '5 mOhm' },
    clamp: { dimension: 'resistance', about: 'post and clamp, both poles together', default: '0.4 mOhm', spread: 'factor' },
  },
  settings: { engine: { about: 'the alternator charges', words: ['stopped', 'running'], default: 'stopped' } },
  build(part, make) {
    const post = make.inner('post', 'electrical')
    make.add({ type: 'across', id: 'cells', a: post, b: make.port('minus'), ...source(part) })
    const clamp = part.value('clamp') + (part.fault('terminal_or_clamp_resistance') ?? 0)
    make.conductance('clamp', post, make.port('plus'), part.fault('intermittent_inside') ? GAP : 1 / clamp)
  },
  modes: [
    {
      id: 'capacity_lost',
      title: 'capacity lost',
      share: 0.52,
      severity: (part) => logSeverity('resistance', 2.5 * part.value('resistance'), 1),
      repair: 'replace',
    },
    {
      id: 'terminal_or_clamp_resistance',
      title: 'bad clamp or terminal',
      share: 0.24,
      severity: (part) => beyondJoint(part.value('clamp')),
      repair: 'clean',
    },
    { id: 'cell_shorted', title: 'one cell shorted', share: 0.06, repair: 'replace' },
    { id: 'intermittent_inside', title: 'cracked inside, comes and goes', share: 0.02, intermittent: true, repair: 'replace' },
  ],
  repairs: {
    replace: { title: 'replace the battery', minutes: 15, price: 140 },
    clean: { title: 'clean and tighten the clamps', minutes: 10, price: 2, disturbs: true },
  },
  hazards: [
    {
      title: 'explosive gas',
      caution: 'No flames or sparks near it; take the negative clamp off first and put it on last.',
    },
  ],
}
