import type { Builder, Kind, PartView } from '../kind.js'
import { REFERENCE } from '@halfsplit/network'
import { scalding } from '../present.js'

/** Shares of the blower's rated speed from which its air counts as slow and as full, and below which it no longer does. Assumptions. */
const SLOW = { rise: 0.2, fall: 0.15, air: 0.45 } as const
const FULL = { rise: 0.6, fall: 0.55 } as const

/** Share of the circulation pump's rated speed from which it moves the coolant. An assumption. */
const PUMPED = { rise: 0.4, fall: 0.35 } as const

/** Air that rises through a matrix whose blower stands [W/K]; an assumption. */
const STILL = 3

/** Conductance of the core that the air still reaches [W/K]. */
const coreOf = (part: PartView): number => part.value('core') * (1 - (part.fault('fins_blocked') ?? 0))

/** What the coolant brings: by the circulation pump once it turns, and by the engine's own pump with its speed. */
function addCoolant(part: PartView, make: Builder, core: string): void {
  const coolant = make.port('coolant')
  const clear = (1 - (part.fault('half_blocked') ?? 0)) * (1 - (part.fault('air_lock') ?? 0))
  const { rise, fall } = PUMPED
  const speed = part.value('pump_speed')
  const pumped = make.threshold('pumped', make.port('pump'), REFERENCE, 1 / speed, rise, fall)
  make.gate('circulated', coolant, core, part.value('pumped_flow') * clear, 0, pumped)
  make.add({
    type: 'law',
    id: 'driven',
    a: coolant,
    b: core,
    law: { law: 'linear', g: part.value('driven_flow') * clear },
    gains: [
      {
        of: 'g',
        node: make.port('engine_pump'),
        curve: { curve: 'power', reference: part.value('engine_pump_speed'), exponent: 1 },
      },
    ],
  })
}

/** What the air takes: some at slow speeds of the blower, all at full ones. */
function addAir(part: PartView, make: Builder, vents: string): void {
  const [blower, cab] = [make.port('blower'), make.port('cab')]
  const clear = 1 - (part.fault('fins_blocked') ?? 0)
  const air = part.value('air') * clear
  const scale = 1 / part.value('blower_speed')
  const slow = make.threshold('slow', blower, REFERENCE, scale, SLOW.rise, SLOW.fall)
  const full = make.threshold('full', blower, REFERENCE, scale, FULL.rise, FULL.fall)
  make.gate('slow_air', vents, cab, SLOW.air * air, 0, slow)
  make.gate('full_air', vents, cab, (1 - SLOW.air) * air, 0, full)
  make.conductance('still_air', vents, cab, STILL * clear)
}

/**
 * Coolant and air each at the temperature at which they leave, with the core's conductance between. Streams that go in and come back are
 * conductances: their heat capacity rates.
 * The table has no rows for a matrix: modes and incidence are an assumption.
 * Minutes and prices of the repairs are assumptions of the invented depot.
 */
export const heaterMatrix: Kind = {
  name: 'heater-matrix',
  title: 'heater matrix',
  letter: 'E',
  symbol: 'heat exchanger',
  about:
    'Small radiator that warms the air of a cab. Coolant comes by a circulation pump and by the pump of the engine, air by a blower.',
  incidence: 1,
  ports: [
    { name: 'coolant', domain: 'thermal', about: 'hose in' },
    { name: 'cab', domain: 'thermal', about: 'air it draws and blows' },
    { name: 'blower', domain: 'rotation', about: 'shaft of the blower', accessible: false },
    { name: 'pump', domain: 'rotation', about: 'impeller of a circulation pump', accessible: false },
    { name: 'engine_pump', domain: 'rotation', about: "impeller of the engine's pump", accessible: false },
  ],
  ratings: {
    core: { dimension: 'thermalConductance', about: 'coolant to air', default: '360 W/K +- 10 %' },
    pumped_flow: {
      dimension: 'thermalConductance',
      about: 'of the coolant, by the circulation pump',
      default: '260 W/K +- 10 %',
    },
    pump_speed: { dimension: 'angularSpeed', about: 'rated, of the circulation pump', default: '2800 rpm' },
    driven_flow: { dimension: 'thermalConductance', about: "of the coolant, by the engine's pump", default: '100 W/K +- 10 %' },
    engine_pump_speed: { dimension: 'angularSpeed', about: "of the engine's pump that drives this flow", default: '2000 rpm' },
    air: { dimension: 'thermalConductance', about: 'of the air, at full speed: 1 kg/s is 1 kW/K', default: '100 W/K +- 10 %' },
    blower_speed: { dimension: 'angularSpeed', about: 'rated, of the blower', default: '2800 rpm' },
    capacity: { dimension: 'heatCapacity', about: 'of the core and the coolant in it', default: '6 kJ/K' },
  },
  build(part, make) {
    const core = make.inner('core', 'thermal')
    const vents = make.inner('vents', 'thermal')
    const charge = { charge: 'linear', capacity: part.value('capacity') } as const
    make.add({ type: 'store', id: 'mass', a: core, b: REFERENCE, charge })
    addCoolant(part, make, core)
    make.conductance('core', core, vents, coreOf(part))
    addAir(part, make, vents)
    make.signal('wet', (id) => ({ type: 'imposed', id, value: part.fault('leaks') !== undefined }))
  },
  modes: [
    {
      id: 'half_blocked',
      title: 'tubes half blocked',
      share: 0.4,
      severity: { dimension: 'fraction', scale: 'linear', nodes: [0.6, 0.75, 0.9, 0.97] },
      repair: 'flush',
    },
    {
      id: 'air_lock',
      title: 'air lock',
      share: 0.3,
      severity: { dimension: 'fraction', scale: 'linear', nodes: [0.9, 0.97, 1] },
      repair: 'bleed',
    },
    {
      id: 'fins_blocked',
      title: 'fins or inlet filter blocked by dust',
      share: 0.2,
      severity: { dimension: 'fraction', scale: 'linear', nodes: [0.5, 0.7, 0.9] },
      repair: 'clean',
    },
    { id: 'leaks', title: 'leaks into the cab', share: 0.1, repair: 'replace' },
  ],
  repairs: {
    flush: { title: 'flush the matrix both ways', minutes: 60, price: 8 },
    bleed: { title: 'fill up and bleed the heater at its highest point', minutes: 20, price: 3 },
    clean: { title: 'clean fins and filter of the heater', minutes: 40, price: 10 },
    replace: { title: 'replace the matrix', minutes: 180, price: 160 },
  },
  looks: [
    {
      name: 'heat',
      about: 'warmth that comes from the vents, by hand',
      words: ['none', 'little', 'good'],
      // Watts. An assumption.
      levels: [
        [350, 700],
        [1700, 2300],
      ],
      quantity: (part) => ({ probe: { across: { core: 1, vents: -1 } }, scale: coreOf(part) }),
      by: 'operator',
      minutes: 1,
    },
    {
      name: 'inlet',
      about: 'hose into the matrix, by touch or thermometer',
      words: ['cold', 'lukewarm', 'hot'],
      // A hand tells 30 from 35 degC, and 55 from 62. An assumption.
      levels: [
        [303, 308],
        [328, 335],
      ],
      quantity: () => ({ probe: { across: { coolant: 1 } }, scale: 1 }),
      by: 'technician',
      minutes: 1.5,
    },
    {
      name: 'difference',
      about: 'hose out of the matrix against the hose in, by touch or thermometer',
      words: ['about as hot', 'clearly colder', 'far colder'],
      // Kelvin. An assumption.
      levels: [
        [17, 21],
        [42, 48],
      ],
      quantity: () => ({ probe: { across: { coolant: 1, core: -1 } }, scale: 1 }),
      by: 'technician',
      minutes: 2,
    },
    {
      name: 'floor',
      about: 'floor and windows of the cab: sweet smell, film, wet mat',
      words: ['dry', 'wet'],
      levels: [[0.4, 0.6]],
      quantity: () => ({ signal: 'wet' }),
      by: 'operator',
      minutes: 1,
    },
  ],
  hazards: [
    {
      title: 'hot',
      harm: 'lasting',
      caution: 'Coolant scalds: open no hose and no bleed screw of a hot heater.',
      present: scalding('coolant'),
    },
  ],
}
