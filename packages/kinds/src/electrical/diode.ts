import type { Law } from '@halfsplit/network'
import { DEAD_SHORT, GAP } from '../insulation.js'
import type { Kind, PartView } from '../kind.js'
import { logSeverity } from '../severity.js'

/** n kT/q of a silicon power junction near 20 degC [V], and its series resistance [ohm]. Common practice, no source. */
const THERMAL_VOLTAGE = 0.045
const SERIES = 0.03

/** A silicon junction with `forward` [V] over it at `current` [A]; `through` false puts a gap in series with it. */
export function junction(forward: number, current: number, through = true): Law {
  const saturation = current * Math.exp(-Math.max(forward - SERIES * current, 0) / THERMAL_VOLTAGE)
  return { law: 'diode', saturation, thermalVoltage: THERMAL_VOLTAGE, series: through ? SERIES : 1 / GAP }
}

const parallel = (part: PartView): number => {
  const leak = part.fault('leaky')
  return part.fault('short') ? DEAD_SHORT : leak ? 1 / leak : 0
}

/** Minutes and prices of the repairs are assumptions of the invented depot. */
export const diode: Kind = {
  name: 'diode',
  title: 'diode',
  letter: 'R',
  symbol: 'diode',
  about: 'Blocking or suppression diode in the harness.',
  incidence: 0.3,
  ports: [
    { name: 'anode', domain: 'electrical', about: 'end without the ring' },
    { name: 'cathode', domain: 'electrical', about: 'end with the ring' },
  ],
  ratings: {
    forward: { dimension: 'voltage', about: 'over it at its current', default: '0.8 V +- 8 %' },
    current: { dimension: 'current', about: 'rated', default: '1 A' },
  },
  build(part, make) {
    const reversed = part.fault('fitted_reversed') !== undefined
    const law = (through: boolean) => junction(part.value('forward'), part.value('current'), through)
    make.law('forward', make.port('anode'), make.port('cathode'), law(!reversed && !part.fault('open')))
    make.law('backward', make.port('cathode'), make.port('anode'), law(reversed))
    make.conductance('parallel', make.port('anode'), make.port('cathode'), parallel(part))
  },
  modes: [
    { id: 'short', title: 'short', share: 0.48, repair: 'replace' },
    { id: 'open', title: 'open', share: 0.36, repair: 'replace' },
    { id: 'leaky', title: 'leaky', share: 0.1, severity: logSeverity('resistance', 30, 30e3, 5), repair: 'replace' },
    { id: 'fitted_reversed', title: 'fitted reversed', share: 0.06, byHand: true, repair: 'replace' },
  ],
  repairs: { replace: { title: 'replace the diode, right way round', minutes: 12, price: 2 } },
  isolated: [{ title: 'diode, both ways', red: 'anode', black: 'cathode', polarity: true, minutes: 4 }],
  unplugs: true,
  swaps: true,
}
