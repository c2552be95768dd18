import { REFERENCE } from '@halfsplit/network'
import type { Kind } from '../kind.js'

/**
 * Holds the impeller to its shaft [N.m.s/rad]: stiff against what keeps a free one still, soft against what turns it, so that a worn
 * one brakes nothing. An assumption.
 */
const COUPLED = 1e-4

/** Holds a jammed one [N.m.s/rad]: more than a small motor can turn. An assumption. */
const JAMMED = 1

/** Minutes and prices of the repairs are assumptions of the invented depot. */
export const coolantPump: Kind = {
  name: 'coolant-pump',
  title: 'coolant pump',
  letter: 'G',
  symbol: 'pump',
  about:
    'Impeller on a shaft, without what drives it: belt or motor. Its flow goes with the speed at `impeller`, that of a sound one.',
  // Of "pump", without: starved or drawing air, which the coolant brings about.
  incidence: 2 * 0.78,
  ports: [
    { name: 'shaft', domain: 'rotation', about: 'pulley or motor', accessible: false },
    { name: 'impeller', domain: 'rotation', about: 'what the coolant sees of it', accessible: false },
  ],
  ratings: {},
  build(part, make) {
    const [shaft, impeller] = [make.port('shaft'), make.port('impeller')]
    const jammed = part.fault('jammed_or_impeller_blocked') !== undefined
    const off = part.fault('drive_or_coupling_broken') !== undefined || jammed
    const worn = part.fault('worn_internal_leakage') ?? 0
    make.conductance('coupling', shaft, impeller, off ? 0 : COUPLED * (1 - worn))
    make.conductance('lost', impeller, REFERENCE, COUPLED * worn)
    make.conductance('jam', shaft, REFERENCE, jammed ? JAMMED : 0)
    make.signal('wet', (id) => ({ type: 'imposed', id, value: part.fault('leaks_outside') !== undefined }))
  },
  modes: [
    {
      id: 'worn_internal_leakage',
      title: 'impeller eaten away',
      share: 0.3,
      // Share of its flow that is lost.
      severity: { dimension: 'fraction', scale: 'linear', nodes: [0.3, 0.5, 0.7, 0.85] },
      repair: 'replace',
    },
    { id: 'leaks_outside', title: 'leaks at its shaft seal', share: 0.26, repair: 'replace' },
    { id: 'jammed_or_impeller_blocked', title: 'jammed', share: 0.12, repair: 'replace' },
    { id: 'drive_or_coupling_broken', title: 'impeller loose on its shaft', share: 0.1, repair: 'replace' },
  ],
  repairs: { replace: { title: 'replace the coolant pump', minutes: 75, price: 85 } },
  looks: [
    {
      name: 'weep',
      about: 'weep hole and seal of the pump',
      words: ['dry', 'wet'],
      levels: [[0.4, 0.6]],
      quantity: () => ({ signal: 'wet' }),
      by: 'technician',
      minutes: 2,
    },
    {
      name: 'flow',
      about: 'hose at the pump, squeezed: the push of the coolant',
      words: ['none', 'some', 'strong'],
      // rad/s of a sound impeller: felt from about 300 rpm up, strong from about 1000 rpm. An assumption.
      levels: [
        [15, 40],
        [70, 110],
      ],
      quantity: () => ({ probe: { across: { impeller: 1 } }, scale: 1, absolute: true }),
      by: 'technician',
      minutes: 2,
    },
  ],
  hazards: [{ title: 'hot', harm: 'lasting', caution: 'Hoses scald and carry pressure: gloves, and open nothing hot.' }],
}
