import { REFERENCE } from '@halfsplit/network'
import type { Kind, PartView } from '../kind.js'

/** Wall of the chambers to the block [W/K]; only its heat counts. An assumption. */
const WALL = 20

/** Above this an engine fires by itself, and by so much below it needs all of its heater plugs' heat [K]. Assumptions. */
const FIRES_BY_ITSELF = 323.15
const STRETCH = 65

/** Heat that it takes to start well at its temperature [W]. */
function needed(part: PartView): number {
  const cold = Math.max((FIRES_BY_ITSELF - part.temperature) / STRETCH, LEAST)
  return part.value('heat') * cold * (1 + (part.fault('low_compression') ?? 0))
}

/** Share of the heat at -15 degC that even a warm engine is counted with. */
const LEAST = 0.01

/**
 * The table has no rows for an engine: modes and incidence are an assumption.
 * Minutes and prices of the repairs are assumptions of the invented depot.
 */
export const coldEngine: Kind = {
  name: 'cold-engine',
  title: 'engine as it starts in the cold',
  letter: 'G',
  symbol: 'internal combustion engine',
  about: 'How a diesel engine fires as it is cranked, by the heat of its heater plugs and the temperature of its block.',
  incidence: 0.5,
  ports: [{ name: 'chamber', domain: 'thermal', about: 'what the heater plugs warm', accessible: false }],
  ratings: {
    heat: { dimension: 'power', about: 'of all heater plugs, for a clean start at -15 degC', default: '300 W' },
  },
  settings: {
    temperature: { about: 'of the block', dimension: 'temperature', default: '20 degC' },
    start: { about: 'cranked or not', words: ['no', 'tried'], default: 'no' },
  },
  build(part, make) {
    const block = make.inner('block', 'thermal')
    make.add({ type: 'across', id: 'block', a: block, b: REFERENCE, value: part.imposed('temperature'), resistance: 0 })
    make.conductance('wall', make.port('chamber'), block, WALL)
  },
  modes: [
    {
      id: 'low_compression',
      title: 'low compression',
      share: 1,
      // Added heat that it takes.
      severity: { dimension: 'fraction', scale: 'linear', nodes: [0.4, 0.8, 1.5] },
      repair: 'overhaul',
    },
  ],
  repairs: { overhaul: { title: 'measure compression, overhaul the engine', minutes: 900, price: 900 } },
  looks: [
    {
      name: 'fires',
      about: 'engine as it is cranked',
      words: ['does not fire', 'fires rough, white smoke', 'starts well'],
      // Share of the heat it needs. An assumption.
      levels: [
        [0.35, 0.5],
        [0.78, 0.9],
      ],
      quantity: (part) => ({ probe: { through: 'wall' }, scale: part.setting('start') === 'tried' ? 1 / needed(part) : 0 }),
      by: 'operator',
      minutes: 1,
    },
  ],
  hazards: [
    {
      title: 'cranks',
      caution: 'Out of gear, brake on, hands off belts and fan before it is cranked.',
      present: (part) => [{ quantity: part.setting('start') === 'tried' ? 1 : 0, over: 0 }],
    },
  ],
}
