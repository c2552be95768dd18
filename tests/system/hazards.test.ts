import {
  generateTests,
  type HazardStanding,
  isLowImpedance,
  ohmsAllowed,
  safeToMove,
  type Setup,
  setupHazards,
  type SizedFault,
  type Test,
} from '@halfsplit/diagnosis'
import { describe, expect, it } from 'vitest'
import { differences } from './json-page.js'
import { Bay, libraryText, systemOf } from './library.js'

// Worked by hand from the ratings in the library.

const bayOf = (name: string) => new Bay(systemOf(libraryText(name), `${name}.yaml`))
const [fan, starting, blade, air] = ['fan-drive', 'starting', 'blade-lift', 'air-supply'].map(bayOf)

/** A belief as a test states it: single faults with their probability, the rest on a sound machine. */
function believing(...faults: readonly (readonly [SizedFault, number])[]): HazardStanding {
  const probability = Float64Array.from([1 - faults.reduce((sum, [, p]) => sum + p, 0), ...faults.map(([, p]) => p)])
  const all = [[], ...faults.map(([one]) => [one])]
  return {
    hypotheses: all.map((one, i) => ({ id: `${i}`, faults: one.map(({ fault }) => fault), absent: false, weight: 1 })),
    sized: all.map((one, hypothesis) => ({ hypothesis, faults: one, stretches: [], weight: 1 })),
    belief: { probability, cellProbability: probability },
    actions: [],
    groups: [],
    complaint: undefined,
  }
}

/** As it stands in a document. */
const written = (value: unknown): unknown => JSON.parse(JSON.stringify(value))

const hazards = (bay: Bay, setup: Setup, from: Setup, standing = believing(), probe?: Test['probe']) =>
  setupHazards({ machine: bay.machine, system: bay.system }, standing, { setup, probe }, from)

/** What begins at a part, by title, and how likely. */
const begins = (bay: Bay, setup: Setup, from: Setup, standing = believing()) =>
  hazards(bay, setup, from, standing)
    .computed.filter((one) => one.begins > 0)
    .map((one) => `${one.part.name} ${one.hazard.title} ${one.begins.toFixed(2)}`)

const jumper = (state: string, from: string, to: string): Setup => ({ state, intervention: { do: 'jumper', from, to } })
const gauge = (bay: Bay, at: string): Test['probe'] => {
  const meter = bay.system.meters.find(({ quantity }) => quantity === 'absolutePressure')
  if (!meter) throw new Error('no gauge')
  return { kind: 'pressure', at, meter }
}

describe('hazards of the fan drive', () => {
  const unplugged: Setup = { state: 'idle_cold', intervention: { do: 'unplug', parts: ['X12'] } }

  it('the fan is driven as soon as the plug of the valve is pulled, whatever the fault', () => {
    expect(begins(fan, unplugged, { state: 'idle_cold' })).toEqual(['CL1 drives 1.00'])
  })

  it('where it was driven already nothing begins: the odds of a cracked fuse are taken off', () => {
    const cracked = fan.fault('F7.open_by_age_or_crack')
    expect(begins(fan, unplugged, { state: 'idle_cold' }, believing([cracked, 0.25]))).toEqual(['CL1 drives 0.75'])
  })

  it('a gauge at the clutch opens a line under pressure when the engine idles, and none when it is parked', () => {
    const pressure = (state: string) =>
      hazards(fan, { state }, { state }, believing(), gauge(fan, 'C1.a')).computed.filter(
        ({ hazard }) => hazard.title === 'pressure',
      )
    expect(pressure('idle_cold').map(({ part, present }) => [part.name, present])).toEqual([['C1', 1]])
    expect(pressure('parked')).toEqual([])
  })
})

describe("the description's own words of a state", () => {
  it('are told where they are new against the state one stands in', () => {
    expect(hazards(fan, { state: 'warm' }, { state: 'idle_cold' }).state).toEqual(['hot'])
    expect(hazards(fan, { state: 'idle_cold' }, { state: 'idle_cold' }).state).toEqual([])
    expect(hazards(fan, { state: 'idle_cold' }, { state: 'parked' }).state).toContain('belts')
  })
})

describe('hazards of starting', () => {
  const bridged = jumper('key_on', 'K2.common', 'K2.work')

  it('a jumper at the start relay cranks the engine past all four interlocks', () => {
    expect(begins(starting, bridged, { state: 'key_on' })).toEqual(['STM cranks 1.00'])
    const { guards } = hazards(starting, bridged, { state: 'key_on' })
    expect(guards.map(({ part, how }) => `${part.name} ${how}`)).toEqual([
      'E1 by-passed',
      'N1 by-passed',
      'L1 by-passed',
      'K3 by-passed',
    ])
  })

  it('that jumper carries the hold winding: 22 V over 2.2 Ohm, a fuse of 15 A', () => {
    const { normal, fuse, most, allowed } = hazards(starting, bridged, { state: 'key_on' }).jumper ?? {}
    expect(normal).toBeGreaterThan(21 / 2.2)
    expect(normal).toBeLessThan(23 / 2.2)
    // 10 A is four fifths of 12.5 A: the next size is 15 A. A lead of 4 mm2 at 5.5 A/mm2 bears 20 A.
    expect([fuse, most, allowed]).toEqual([15, 20, true])
    expect(differences(written(hazards(starting, bridged, { state: 'key_on' }).jumper), 'jumper')).toEqual([])
  })

  it('bridging the neutral switch, or pulling its plug, takes that one out of action', () => {
    const at = (setup: Setup) =>
      hazards(starting, setup, { state: 'key_start' }).guards.map(({ part, how }) => `${part.name} ${how}`)
    expect(at(jumper('key_start', 'N1.a', 'N1.b'))).toEqual(['N1 bridged'])
    expect(at({ state: 'key_start', intervention: { do: 'unplug', parts: ['X20'] } })).toEqual(['N1 unplugged'])
    expect(at({ state: 'key_start' })).toEqual([])
  })

  it('a neutral switch that is welded lets it crank in gear: it is not to be moved', () => {
    const welded = starting.fault('N1.stuck_closed')
    const { verdict, could } = safeToMove({ machine: starting.machine, system: starting.system }, believing([welded, 0.3]))
    expect(verdict).toBe('do not move')
    expect(could[0]).toMatchObject({ harm: 'lasting', states: ['in_gear'], consequence: { kind: 'does' } })
    expect(could.map(({ consequence: { kind, part } }) => `${kind} ${part.name}`)).toEqual(['does STM', 'unguarded N1'])
  })
})

describe('hazards of the blade lift', () => {
  it('the blade comes down when the switch that lowers it is bridged: 1.7 A, a fuse of 3 A', () => {
    const bridged = jumper('ready', 'S2.a', 'S2.b')
    expect(begins(blade, bridged, { state: 'ready' })).toEqual(['LC1 falls 1.00'])
    const found = hazards(blade, bridged, { state: 'ready' })
    // 13.9 V less what wires and joints take, over 8 Ohm.
    expect(found.jumper?.normal).toBeGreaterThan(13 / 8)
    expect(found.jumper?.normal).toBeLessThan(13.9 / 8)
    // The wires of the joystick have 1 mm2: 5.5 A.
    expect([found.jumper?.fuse, found.jumper?.most, found.jumper?.allowed]).toEqual([3, 5, true])
    expect(found.guards).toEqual([])
  })

  it('bridging the contactor runs the pump and lifts the blade with 95 A: no lead and no blade fuse for that', () => {
    const bridged = jumper('ready', 'K4.in', 'K4.out')
    expect(begins(blade, bridged, { state: 'ready' })).toEqual(['LC1 moving parts 1.00', 'PP1 starts by itself 1.00'])
    const found = hazards(blade, bridged, { state: 'ready' }).jumper
    expect(found?.normal).toBeGreaterThan(90)
    expect(found?.normal).toBeLessThan(100)
    expect([found?.fuse, found?.allowed]).toEqual([undefined, false])
  })
})

describe('hazards of the air supply', () => {
  it('as air builds the spring brakes let go, and the dryer blows when the governor cuts out', () => {
    expect(begins(air, { state: 'charging' }, { state: 'building' })).toContain('PV1 brakes 1.00')
    expect(begins(air, { state: 'full' }, { state: 'charging' })).toEqual(['AD1 blows 1.00'])
  })

  it('a blocked way to a brake circuit leaves its spring brakes without air: it is not to be moved', () => {
    const shut = air.fault('PV1.circuit_1_stuck_shut')
    const { verdict, could } = safeToMove({ machine: air.machine, system: air.system }, believing([shut, 0.2]))
    expect(verdict).toBe('do not move')
    expect(could.map(({ consequence: { kind, part }, probability }) => `${kind} ${part.name} ${probability}`)).toEqual([
      'loses PV1 0.2',
    ])
  })
})

describe('ohms on a circuit that may be live', () => {
  const ruling = (bay: Bay, part: string, standing = believing()) => {
    const test = generateTests(bay.system).find(
      ({ probe }) => probe.kind === 'ohms' && probe.part === part && !isLowImpedance(probe.meter),
    )
    if (!test) throw new Error(`no ohms of ${part}`)
    return ohmsAllowed({ machine: bay.machine, system: bay.system }, standing, test)
  }

  it('wait at the main switch, whose battery side is never dead, and not at the valve', () => {
    expect(ruling(fan, 'S1')).toMatchObject({ allowed: false, dead: true, maybeLive: 1 })
    expect(ruling(fan, 'SV1')).toMatchObject({ allowed: true, maybeLive: 0 })
    expect(differences(written(ruling(fan, 'S1')), 'ohms')).toEqual([])
  })

  it('wait at the fuse as soon as the main switch may be welded', () => {
    expect(ruling(fan, 'F7').allowed).toBe(true)
    expect(ruling(fan, 'F7', believing([fan.fault('S1.stuck_closed'), 0.1])).allowed).toBe(false)
  })
})
