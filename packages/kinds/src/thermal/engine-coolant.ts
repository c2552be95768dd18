import { REFERENCE } from '@halfsplit/network'
import type { Builder, Kind, PartView, Present } from '../kind.js'
import { FILL, LEVEL_LOOK, LOW_LEVEL } from './coolant-level.js'
import { addSurroundings } from './surroundings.js'
import { scalding, turning } from '../present.js'

/** Coupling of the coolant with what is screwed into it [W/K]: so much more than that of a switch that none cools it. An assumption. */
const STIRRED = 100

/** Heat capacity rate of the branch to a heater, full of coolant [W/K]; an assumption, far above what a heater takes. */
const HEATER = 3000

/**
 * Air gathers in the heater first, which lies high: its branch keeps this power of the share of coolant that is left. An assumption:
 * a fifth missing leaves a sixth of the flow.
 */
const HEATER_STARVES = 8

/** What steam carries to the surroundings, so far above the boiling point [W/K], [K]; in proportion elsewhere above it. Assumptions. */
const STEAM = 1000
const BOILS_HARD = 5

/** From the boiling point on, ever more of the heat leaves as steam. */
function addSteam(part: PartView, make: Builder, bulk: string, surroundings: string): void {
  const boiling = make.inner('boiling', 'thermal', part.value('boils'))
  make.add({ type: 'across', id: 'boiling', a: boiling, b: REFERENCE, value: part.value('boils'), resistance: 0 })
  const curve = { curve: 'power', reference: BOILS_HARD, exponent: 1 } as const
  const gains = [{ of: 'g', node: bulk, less: boiling, curve }]
  make.add({ type: 'law', id: 'steam', a: bulk, b: surroundings, law: { law: 'linear', g: STEAM }, gains })
}

/** What is screwed in and what is led to a heater, with what a low level does to both. */
function addTaps(part: PartView, make: Builder, bulk: string, surroundings: string): void {
  const bare = part.fault('low_level') ?? 0
  const liquid = make.port('liquid')
  make.conductance('wetted', bulk, liquid, STIRRED * (1 - bare))
  make.conductance('bare', liquid, surroundings, STIRRED * bare)
  make.conductance('branch', bulk, make.port('heater'), HEATER * (1 - bare) ** HEATER_STARVES)
  make.signal('low', (id) => ({ type: 'imposed', id, value: bare > 0 }))
}

/** So near to its boiling point that it boils where the metal is hottest [K]; an assumption. */
const SIMMERS = 5

const boils = (part: PartView): Present[] => [
  { quantity: { probe: { across: { outlet: 1 } }, scale: 1 }, over: part.value('boils') - SIMMERS },
]

/**
 * The table has no row for a liquid: the incidence is an assumption, as for coolant at an imposed temperature.
 * Minutes and prices of the repairs are assumptions of the invented depot.
 */
export const engineCoolant: Kind = {
  name: 'engine-coolant',
  title: 'engine with its coolant',
  letter: 'C',
  symbol: 'liquid at a temperature',
  about:
    'Coolant and the iron it washes as one mass, heated by the engine, and the speed of the crankshaft. At rest its temperature is imposed, or follows from what heats and cools it.',
  incidence: 0.5,
  ports: [
    { name: 'liquid', domain: 'thermal', about: 'where switches and senders are screwed in' },
    { name: 'outlet', domain: 'thermal', about: 'to the thermostat' },
    { name: 'heater', domain: 'thermal', about: 'branch to a heater' },
    { name: 'shaft', domain: 'rotation', about: 'crankshaft with its pulleys' },
  ],
  ratings: {
    capacity: { dimension: 'heatCapacity', about: 'of coolant and iron together', default: '300 kJ/K' },
    loss: { dimension: 'thermalConductance', about: 'from the block to the surroundings', default: '40 W/K' },
    boils: { dimension: 'temperature', about: 'under the cap of its cooling system', default: '118 degC' },
  },
  choices: {
    at_rest: {
      about: 'temperature at rest: as the state imposes it, or where heat and cooling balance',
      words: ['imposed', 'follows'],
      default: 'imposed',
    },
  },
  settings: {
    temperature: { about: 'of the coolant, where it is imposed', dimension: 'temperature', default: '20 degC' },
    heat: { about: 'of the engine into its coolant', dimension: 'power', default: '0 W' },
    speed: { about: 'of the crankshaft', dimension: 'angularSpeed', default: '0 rpm' },
  },
  build(part, make) {
    const bulk = make.port('outlet')
    const holds = part.word('at_rest') === 'imposed' ? { holds: part.imposed('temperature') } : {}
    const charge = { charge: 'linear', capacity: part.value('capacity') } as const
    make.add({ type: 'store', id: 'mass', a: bulk, b: REFERENCE, charge, ...holds })
    make.add({ type: 'through', id: 'heat', a: bulk, b: REFERENCE, value: part.imposed('heat') })
    const surroundings = addSurroundings(make)
    addTaps(part, make, bulk, surroundings)
    make.conductance('loss', bulk, surroundings, part.value('loss'))
    addSteam(part, make, bulk, surroundings)
    make.add({ type: 'across', id: 'crank', a: make.port('shaft'), b: REFERENCE, value: part.imposed('speed'), resistance: 0 })
  },
  modes: [LOW_LEVEL],
  repairs: { fill: FILL },
  looks: [
    LEVEL_LOOK,
    {
      name: 'gauge',
      about: 'temperature gauge of the engine',
      words: ['cold', 'normal', 'in the red'],
      // Normal is from about 72 to 100 degC. Common practice, no source.
      levels: [
        [341, 348],
        [372, 376],
      ],
      quantity: () => ({ probe: { across: { liquid: 1 } }, scale: 1 }),
      by: 'operator',
      minutes: 0.5,
    },
  ],
  hazards: [
    { title: 'hot', harm: 'lasting', caution: 'Open no cap under pressure: coolant scalds.', present: scalding('outlet') },
    { title: 'overheats', caution: 'Stop the engine before the gauge is in the red.', present: boils },
    {
      title: 'starts by itself',
      caution: 'Keep hands, sleeves and leads off belts and fan while the engine can run.',
      present: turning('shaft'),
    },
  ],
}
