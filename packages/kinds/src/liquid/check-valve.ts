import type { Kind } from '../kind.js'
import { addOutside, dripSeverity, leakOf, oilHazard, SEEP, seatSeverity, wetLook } from './oil.js'

/** Minutes and prices of the repairs are assumptions of the invented depot. */
export const checkValve: Kind = {
  name: 'check-valve',
  title: 'check valve',
  letter: 'R',
  symbol: 'non-return valve, spring loaded',
  about: 'Lets oil from inlet to outlet and none back.',
  incidence: 0.8,
  ports: [
    { name: 'in', domain: 'liquid', about: 'inlet' },
    { name: 'out', domain: 'liquid', about: 'outlet' },
  ],
  ratings: {
    cracks: { dimension: 'pressureDifference', about: 'it takes to open', default: '0.5 bar' },
    flow: { dimension: 'volumeFlow', about: 'that passes for each bar above', default: '6 l/min' },
  },
  build(part, make) {
    const [inlet, outlet] = [make.port('in'), make.port('out')]
    const g = part.fault('stuck_closed') ? 0 : part.value('flow') / 1e5
    const set = part.value('cracks')
    const turned = part.fault('fitted_reversed') !== undefined
    make.law('seat', inlet, outlet, { law: 'relief', set, g: turned ? 0 : g, leak: SEEP + leakOf(part.fault('leaks_back')) })
    make.law('turned', outlet, inlet, { law: 'relief', set, g: turned ? g : 0, leak: SEEP })
    make.conductance('leak', outlet, addOutside(make), leakOf(part.fault('leaks_outside')))
  },
  modes: [
    { id: 'leaks_back', title: 'leaks back', share: 0.66, severity: seatSeverity(), repair: 'clean' },
    { id: 'stuck_closed', title: 'stuck closed', share: 0.22, repair: 'clean' },
    { id: 'fitted_reversed', title: 'fitted the wrong way round', share: 0.06, byHand: true, repair: 'turn' },
    { id: 'leaks_outside', title: 'leaks outside', share: 0.06, severity: dripSeverity(), repair: 'clean' },
  ],
  repairs: {
    clean: { title: 'clean or replace the check valve', minutes: 30, price: 25 },
    turn: { title: 'turn the check valve round', minutes: 20, price: 0 },
  },
  looks: [wetLook('oil at the check valve')],
  hazards: [oilHazard('in', 'out')],
}
