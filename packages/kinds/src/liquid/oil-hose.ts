import type { Kind, PartView } from '../kind.js'
import { blockedSeverity } from '../severity.js'
import { addOutside, dripSeverity, laminarLine, leakOf, oilHazard, oilVolume, SEEP, wetLook } from './oil.js'

/** What a torn hose lets out [m3/(s Pa)]: all that a small pump gives, at a bar or less. */
const TORN = 1e-9

/** Hagen-Poiseuille falls with the fourth power: a share of the bore that is gone counts as that share of the flow. */
const passage = (part: PartView): number =>
  laminarLine(part.value('bore'), part.value('length'), part.temperature) * Math.max(0, 1 - (part.fault('restricted') ?? 0))

/** Minutes and prices of the repairs are assumptions of the invented depot. */
export const oilHose: Kind = {
  name: 'oil-hose',
  title: 'oil hose',
  letter: 'W',
  symbol: 'flexible line',
  about: 'Hose or pipe for oil, with its crimped or flared ends.',
  // Without: swapped at reconnection, which takes two hoses to describe.
  incidence: 1.5 * 0.97,
  ports: [
    { name: 'a', domain: 'liquid', about: 'pump end', accessible: false },
    { name: 'b', domain: 'liquid', about: 'far end', accessible: false },
  ],
  ratings: {
    bore: { dimension: 'length', about: 'inside diameter', default: '8 mm' },
    length: { dimension: 'length', about: 'length of the run', default: '1 m' },
  },
  settings: { temperature: { about: 'of the oil in it', dimension: 'temperature', default: '20 degC' } },
  build(part, make) {
    const [a, b] = [make.port('a'), make.port('b')]
    // A flap of the lining lets oil through and not back.
    const one = part.fault('flap_of_lining_acts_as_check_valve') !== undefined
    const g = passage(part)
    make.law('run', a, b, { law: 'relief', set: 0, g: one ? g : 0, leak: one ? SEEP : g })
    make.add(oilVolume('volume', b, (Math.PI / 4) * part.value('bore') ** 2 * part.value('length')))
    make.conductance('leak', b, addOutside(make), part.fault('bursts') ? TORN : leakOf(part.fault('leaks_outside')))
  },
  modes: [
    { id: 'leaks_outside', title: 'leaks', share: 0.58, severity: dripSeverity(), repair: 'replace' },
    { id: 'restricted', title: 'kinked or blocked', share: 0.24, severity: blockedSeverity(), repair: 'replace' },
    { id: 'bursts', title: 'burst', share: 0.1, repair: 'replace' },
    { id: 'flap_of_lining_acts_as_check_valve', title: 'loose lining lets no oil back', share: 0.05, repair: 'replace' },
  ],
  repairs: { replace: { title: 'replace the oil hose', minutes: 30, price: 35 } },
  looks: [wetLook('oil along the hose and at its ends')],
  hazards: [oilHazard('a', 'b')],
}
