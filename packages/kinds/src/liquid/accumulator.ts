import { STANDARD_ATMOSPHERE } from '@halfsplit/core'
import { REFERENCE } from '@halfsplit/network'
import type { Kind, PartView } from '../kind.js'
import { addOutside, BULK_MODULUS, dripSeverity, leakOf, oilHazard, wetLook } from './oil.js'

/** Exponent of nitrogen that is let and charged in seconds [1]: between 1, slow, and 1.4, in no time. Common practice, no source. */
const EXPONENT = 1.2

/** Share of its volume that is oil below the precharge, in the port and under the bladder [1]; an assumption. */
const DEAD_SPACE = 0.02

/** What is left of the precharge [Pa absolute]; none at all would leave no gas to squeeze. */
const precharge = (part: PartView): number =>
  Math.max(STANDARD_ATMOSPHERE, part.value('precharge') * (1 - (part.fault('precharge_lost') ?? 0)))

/**
 * The table has no row for it: modes and incidence are an assumption.
 * Minutes and prices of the repairs are assumptions of the invented depot.
 */
export const accumulator: Kind = {
  name: 'accumulator',
  title: 'accumulator',
  letter: 'C',
  symbol: 'accumulator, gas loaded',
  about: 'Bladder with nitrogen that stores oil under pressure: its pressure is what a state of the machine says.',
  incidence: 1,
  ports: [{ name: 'oil', domain: 'liquid', about: 'line it is on' }],
  ratings: {
    volume: { dimension: 'volume', about: 'of the gas at its precharge', default: '0.75 l' },
    precharge: { dimension: 'absolutePressure', about: 'of the gas with no oil in it', default: '60 bar +- 3 bar' },
  },
  settings: { pressure: { about: 'of the oil in it', dimension: 'absolutePressure', default: '0 bar' } },
  build(part, make) {
    const volume = part.value('volume')
    make.add({
      type: 'store',
      id: 'gas',
      a: make.port('oil'),
      b: REFERENCE,
      charge: {
        charge: 'accumulator',
        volume,
        precharge: precharge(part),
        exponent: EXPONENT,
        capacity: (DEAD_SPACE * volume) / BULK_MODULUS,
      },
      holds: part.imposed('pressure'),
    })
    make.conductance('leak', make.port('oil'), addOutside(make), leakOf(part.fault('leaks_outside')))
    make.signal('flat', (id) => ({ type: 'imposed', id, value: (part.fault('precharge_lost') ?? 0) > 0.25 }))
  },
  modes: [
    {
      id: 'precharge_lost',
      title: 'precharge lost',
      share: 0.75,
      severity: { dimension: 'fraction', scale: 'linear', nodes: [0.3, 0.6, 1] },
      repair: 'charge',
    },
    { id: 'leaks_outside', title: 'leaks outside', share: 0.25, severity: dripSeverity(), repair: 'replace' },
  ],
  repairs: {
    charge: { title: 'charge the accumulator with nitrogen, or replace it', minutes: 40, price: 60 },
    replace: { title: 'replace the accumulator', minutes: 45, price: 180 },
  },
  looks: [
    {
      name: 'precharge',
      about: 'gas pressure by the charging kit, oil side let down',
      words: ['right', 'low'],
      levels: [[0.4, 0.6]],
      quantity: () => ({ signal: 'flat' }),
      by: 'technician',
      minutes: 20,
    },
    wetLook('oil at the accumulator'),
  ],
  hazards: [
    oilHazard('oil'),
    {
      title: 'pressure',
      caution: 'It holds pressure with everything off. Nitrogen only, never air or oxygen; bleed before it is undone.',
    },
  ],
}
