import { GAP } from '../insulation.js'
import type { Builder, Kind, PartView } from '../kind.js'
import { logSeverity } from '../severity.js'

/** A powered module goes dead again at this share of the volts it needs to start; an assumption. */
const HOLDS_AT = 0.8

/** Its input goes off again at this share of the volts that turn it on; an assumption. */
const RELEASES_AT = 0.6

/** Signal that says the output is on: powered, and the input has been on (or, for a TOF, was on) long enough. */
function stage(part: PartView, make: Builder): string {
  const [feed, ground, input] = [make.port('feed'), make.port('ground'), make.port('input')]
  const drift = 1 + (part.fault('timing_or_threshold_drifted') ?? 0)
  // With a joint cracked in its supply it is dead.
  const alive = part.fault('cracked_joint') ? 0 : 1
  const supply = part.value('supply')
  const level = part.value('input_level') * drift
  const powered = make.threshold('powered', feed, ground, alive, supply, HOLDS_AT * supply)
  const asked = make.threshold('asked', input, ground, 1, level, RELEASES_AT * level)
  const type = part.word('type') === 'TON' ? 'TON' : 'TOF'
  const timed = make.signal('timed', (id) => ({ type, id, of: asked, delay: part.value('delay') * drift }))
  return make.signal('on', (id) => ({ type: 'and', id, of: [powered, timed] }))
}

/** Minutes and prices of the repairs are assumptions of the invented depot. */
export const delayModule: Kind = {
  name: 'delay-module',
  title: 'delay module',
  letter: 'K',
  symbol: 'time relay',
  about:
    'Electronic timer with its own supply: its output takes volts from its feed some time after its input comes on, or goes off.',
  // Of "control module", without: missing feed, ground or input, which is not the module.
  incidence: 0.5 * 0.55,
  ports: [
    { name: 'feed', domain: 'electrical', about: 'its own supply' },
    { name: 'ground', domain: 'electrical', about: 'its own ground' },
    { name: 'input', domain: 'electrical', about: 'on above its level' },
    { name: 'output', domain: 'electrical', about: 'switched to its feed' },
  ],
  ratings: {
    delay: { dimension: 'time', about: 'of its timer', default: '10 s +- 10 %' },
    supply: { dimension: 'voltage', about: 'it needs to work', default: '<= 8 V' },
    input_level: { dimension: 'voltage', about: 'at its input, above its own ground, that counts as on', default: '4 V +- 15 %' },
    input_resistance: { dimension: 'resistance', about: 'from input to ground', default: '22 kOhm +- 10 %' },
    quiescent: { dimension: 'resistance', about: 'of its own consumption', default: '2 kOhm +- 20 %' },
    stage: { dimension: 'resistance', about: 'output stage when on', default: '0.2 Ohm +- 30 %' },
  },
  choices: {
    type: { about: 'delays coming on (TON) or going off (TOF), IEC 61131-3', words: ['TON', 'TOF'], default: 'TON' },
  },
  build(part, make) {
    const [feed, ground, output] = [make.port('feed'), make.port('ground'), make.port('output')]
    make.conductance('own', feed, ground, part.fault('cracked_joint') ? GAP : 1 / part.value('quiescent'))
    make.conductance('input', make.port('input'), ground, 1 / part.value('input_resistance'))
    const closed = 1 / part.value('stage')
    const on = part.fault('output_stage_open') ? GAP : closed
    make.gate('stage', feed, output, on, part.fault('output_stage_shorted') ? closed : GAP, stage(part, make))
    const wet = part.fault('water_inside')
    make.conductance('wet', feed, output, wet ? 1 / wet : 0)
  },
  modes: [
    { id: 'output_stage_open', title: 'output stage open', share: 0.17, repair: 'replace' },
    { id: 'output_stage_shorted', title: 'output stage shorted', share: 0.1, repair: 'replace' },
    {
      id: 'timing_or_threshold_drifted',
      title: 'timing or input level drifted',
      share: 0.12,
      severity: { dimension: 'fraction', scale: 'linear', nodes: [-0.6, -0.4, 0.4, 0.8, 1.5] },
      repair: 'replace',
    },
    { id: 'cracked_joint', title: 'cracked joint, comes and goes', share: 0.1, intermittent: true, repair: 'replace' },
    {
      id: 'water_inside',
      title: 'water inside',
      share: 0.06,
      severity: logSeverity('resistance', 50, 50e3, 5),
      repair: 'replace',
    },
  ],
  repairs: { replace: { title: 'replace the delay module', minutes: 15, price: 110, disturbs: true } },
  says: (part) => ({
    powered: { on: 'comes alive', off: 'goes dead' },
    timed: part.word('type') === 'TON' ? { on: 'times out', off: 'is reset' } : { on: 'is set', off: 'times out' },
  }),
  isolated: [{ title: 'input resistance', red: 'input', black: 'ground', minutes: 5 }],
  jumper: { across: [['feed', 'output']] },
  load: { feed: 'feed', ground: 'ground' },
  unplugs: true,
  swaps: true,
}
