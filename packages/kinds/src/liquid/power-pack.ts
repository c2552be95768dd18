import { STANDARD_ATMOSPHERE } from '@halfsplit/core'
import { REFERENCE } from '@halfsplit/network'
import { addMachine, machineModes, turningLook } from '../electrical/machine.js'
import type { Builder, Kind, Mode, PartView } from '../kind.js'
import { beyondJoint, logSeverity } from '../severity.js'
import { addOutside, DENSITY, dripSeverity, leakOf, oilHazard, thinness, viscosity, wetLook } from './oil.js'
import { live, turning } from '../present.js'

/** The table counts the motor 1.5 and the pump 2: what each makes up of the whole. */
const MOTOR = 1.5 / 3.5
const PUMP = 2 / 3.5

/** Height of the oil in the full tank [m] and gravity [m/s2]; the height is an assumption. */
const HEIGHT = 0.15
const GRAVITY = 9.81

/** Slip of a good gear pump, at 30 bar and 20 degC [m3/s]: 8 % of a small pump's flow at its full pressure. An assumption. */
const SLIP = 9e-7

/** A pump that draws air gives none worth the name: conductance that joins its ends [m3/(s Pa)]. */
const FOAM = 1e-9

/** The level must rise by this share of what it fell short before the pump draws oil again [1]; an assumption. */
const SLOSH = 0.02

/** Speed above which it is heard that the pump foams, as a share of the usual one [1]; an assumption. */
const HEARD = 0.1

/** Drag of a jammed pump over the usual one [1]. */
const JAMMED = 15

/** How the drag of pump and oil grows with the viscosity: its exponent [1]. An assumption: cold oil of -20 degC doubles it. */
const THICK = 0.25

const stiffness = (part: PartView): number =>
  part.fault('jammed_or_impeller_blocked') ? JAMMED : (viscosity(part.temperature) / viscosity(293.15)) ** THICK

/** The tank: its oil stands as a column over the port `tank`. @returns the signal that says the pump draws air */
function addTank(part: PartView, make: Builder): string {
  const tank = make.port('tank')
  const full = part.value('oil')
  const capacity = full / (DENSITY * GRAVITY * HEIGHT)
  const column = (volume: number) => STANDARD_ATMOSPHERE + volume / capacity
  const level = full - part.imposed('out') - (part.fault('level_low') ?? 0)
  make.add({ type: 'store', id: 'oil', a: tank, b: REFERENCE, charge: { charge: 'linear', capacity }, holds: column(level) })
  const least = part.value('uncovered')
  // Its input is the want of oil: it rises as the level falls.
  return make.threshold('uncovered', tank, REFERENCE, -1, -column(least), -column((1 + SLOSH) * least))
}

function addPump(part: PartView, make: Builder, shaft: string): void {
  const [pressure, tank] = [make.port('pressure'), make.port('tank')]
  const uncovered = addTank(part, make)
  const lost = part.fault('draws_air') ?? 0
  const turns = part.fault('drive_or_coupling_broken') ? 0 : part.value('displacement') * (1 - lost)
  make.add({ type: 'pump', id: 'pump', a: tank, b: pressure, shaft, displacement: turns / (2 * Math.PI) })
  const slip = leakOf(SLIP + (part.fault('worn_internal_leakage') ?? 0)) * thinness(part.temperature)
  make.conductance('slip', pressure, tank, slip)
  make.gate('foam', pressure, tank, FOAM, 0, uncovered)
  make.conductance('leak', pressure, addOutside(make), leakOf(part.fault('leaks_outside')))
  const turning = make.threshold('turning', shaft, REFERENCE, 1, HEARD * part.value('speed'), HEARD * part.value('speed'))
  const airy = make.signal('airy', (id) => ({ type: 'imposed', id, value: lost > 0 }))
  const foaming = make.signal('foaming', (id) => ({ type: 'or', id, of: [uncovered, airy] }))
  make.signal('growls', (id) => ({ type: 'and', id, of: [turning, foaming] }))
  make.signal('short', (id) => ({ type: 'imposed', id, value: part.fault('level_low') !== undefined }))
}

const pumpModes: readonly Mode[] = [
  {
    id: 'worn_internal_leakage',
    title: 'pump worn',
    share: 0.3 * PUMP,
    // Added slip at 30 bar: from a fifth of its flow at full pressure to all of it at 30 bar.
    severity: logSeverity('volumeFlow', 2.2e-6, 7e-5, 6),
    repair: 'pump',
  },
  { id: 'leaks_outside', title: 'pump leaks at its shaft seal', share: 0.26 * PUMP, severity: dripSeverity(), repair: 'pump' },
  {
    id: 'level_low',
    title: 'oil level low',
    share: 0.12 * PUMP,
    severity: { dimension: 'volume', scale: 'linear', nodes: [0.0012, 0.0016, 0.002, 0.0025, 0.0035] },
    repair: 'fill',
  },
  {
    id: 'draws_air',
    title: 'draws air, strainer blocked or suction leaks',
    share: 0.1 * PUMP,
    severity: { dimension: 'fraction', scale: 'linear', nodes: [0.4, 0.6, 0.8, 0.95] },
    repair: 'suction',
  },
  { id: 'jammed_or_impeller_blocked', title: 'pump jammed', share: 0.12 * PUMP, repair: 'pump' },
  { id: 'drive_or_coupling_broken', title: 'coupling between motor and pump broken', share: 0.1 * PUMP, repair: 'coupling' },
]

/** Minutes and prices of the repairs are assumptions of the invented depot. */
export const powerPack: Kind = {
  name: 'power-pack',
  title: 'hydraulic power pack',
  letter: 'P',
  symbol: 'hydraulic pump, driven by an electric motor, with reservoir',
  about: 'Direct-current motor, gear pump and oil tank in one. What it sucks from and what comes back is the port `tank`.',
  // Of "motor", without: drive part, which is the coupling of the pump. All of "pump".
  incidence: 1.5 * 0.94 + 2,
  ports: [
    { name: 'feed', domain: 'electrical', about: 'feed stud of the motor' },
    { name: 'ground', domain: 'electrical', about: 'ground stud of the motor' },
    { name: 'pressure', domain: 'liquid', about: 'pressure port, with a test port' },
    { name: 'tank', domain: 'liquid', about: 'return to the tank', accessible: false },
  ],
  ratings: {
    voltage: { dimension: 'voltage', about: 'at its studs, pumping without pressure', default: '11.5 V' },
    current: { dimension: 'current', about: 'it takes then', default: '70 A +- 10 %' },
    speed: { dimension: 'angularSpeed', about: 'it has then', default: '2150 rpm' },
    winding: { dimension: 'resistance', about: 'winding and brushes', default: '12 mOhm +- 10 %' },
    leads: { dimension: 'resistance', about: 'its own studs', default: '0.3 mOhm', spread: 'factor' },
    displacement: { dimension: 'volume', about: 'of the pump, a revolution', default: '2.1 ml' },
    oil: { dimension: 'volume', about: 'in the tank, cylinders in', default: '6 l' },
    uncovered: { dimension: 'volume', about: 'in the tank when the suction begins to draw air', default: '3.67 l' },
  },
  settings: {
    temperature: { about: 'of the oil', dimension: 'temperature', default: '20 degC' },
    out: { about: 'oil that is out in the cylinders', dimension: 'volume', default: '0 l' },
  },
  build(part, make) {
    const leads = make.inner('leads', 'electrical')
    const loose = part.fault('high_resistance_in_its_leads') ?? 0
    make.conductance('leads', make.port('feed'), leads, 1 / (part.value('leads') + loose))
    const duty = {
      voltage: part.value('voltage'),
      current: part.value('current'),
      speed: part.value('speed'),
      winding: part.value('winding'),
    }
    addPump(part, make, addMachine(part, make, leads, make.port('ground'), duty, stiffness(part)))
  },
  modes: [
    ...machineModes(MOTOR, (part) => part.value('winding')),
    {
      id: 'high_resistance_in_its_leads',
      title: 'bad contact at a stud of the motor',
      share: 0.18 * MOTOR,
      severity: (part) => beyondJoint(part.value('leads')),
      repair: 'studs',
    },
    ...pumpModes,
  ],
  repairs: {
    overhaul: { title: 'overhaul the motor: brushes, bearings', minutes: 90, price: 45 },
    replace: { title: 'replace the motor of the power pack', minutes: 60, price: 210, disturbs: true },
    studs: { title: 'clean and tighten the studs of the motor', minutes: 20, price: 2, disturbs: true },
    pump: { title: 'replace or reseal the pump', minutes: 90, price: 160 },
    fill: { title: 'find the loss, fill up and bleed', minutes: 20, price: 20 },
    suction: { title: 'clean the strainer, renew the suction seals and bleed', minutes: 60, price: 25 },
    coupling: { title: 'renew the coupling between motor and pump', minutes: 60, price: 20 },
  },
  looks: [
    turningLook('sound', 'motor of the power pack, by its speed', ['stands', 'labours', 'runs']),
    {
      name: 'pump',
      about: 'pump heard while it runs',
      words: ['even', 'growls'],
      levels: [[0.4, 0.6]],
      quantity: () => ({ signal: 'growls' }),
      by: 'operator',
      minutes: 0.5,
    },
    {
      name: 'level',
      about: 'dipstick or sight glass, all cylinders in',
      words: ['full', 'low'],
      levels: [[0.4, 0.6]],
      quantity: () => ({ signal: 'short' }),
      by: 'technician',
      minutes: 3,
    },
    wetLook('oil under the pump'),
  ],
  says: () => ({ uncovered: { on: 'draws air', off: 'draws oil again' } }),
  isolated: [{ title: 'resistance of the motor', red: 'feed', black: 'ground', minutes: 5 }],
  hazards: [
    oilHazard('pressure'),
    {
      title: 'starts by itself',
      harm: 'passing',
      caution: 'A welded contactor runs it: take the negative clamp off before work on it.',
      present: turning('shaft'),
    },
    {
      title: 'sparks',
      caution: 'Its cables carry 200 A and are live up to the contactor: rings off, no tools across.',
      present: live('feed'),
    },
    { title: 'hot', caution: 'A minute on the relief valve burns motor and hands.' },
  ],
  load: { feed: 'feed', ground: 'ground' },
}
