import { describe, expect, test } from 'vitest'
import { Bay, across, libraryText, systemOf, through } from './library.js'

const ZERO_CELSIUS = 273.15
const bay = new Bay(systemOf(libraryText('cab-heater'), 'cab-heater.yaml'))
const faultsOf = (id?: string, size?: number) => (id === undefined ? [] : [bay.fault(id, size)])

/** Engine, hose into the matrix [degC], and what the cab gains [W]. */
function temperatures(state: string, id?: string, size?: number): { engine: number; inlet: number; gain: number } {
  const arrival = bay.arrive(state, faultsOf(id, size))
  const at = (port: string) => across(bay, arrival, port) - ZERO_CELSIUS
  return { engine: at('ENG.liquid'), inlet: at('HM1.coolant'), gain: through(arrival, 'CAB:mass') }
}
const turns = (state: string, id?: string, size?: number): number =>
  across(bay, bay.arrive(state, faultsOf(id, size)), 'M14.drive')

// System I of the project's compilation of trade practice.
describe('cab heater of the Saddle Bus', () => {
  test('warms the cab from an engine that its thermostat holds at 82 to 88 degC', () => {
    const { engine, inlet, gain } = temperatures('full')
    expect(engine).toBeGreaterThan(82)
    expect(engine).toBeLessThan(88)
    expect(inlet).toBeGreaterThan(75)
    expect(gain).toBeGreaterThan(2500)
  })

  test('is blamed where a thermostat stuck open leaves the engine near 62 degC', () => {
    const { engine, gain } = temperatures('full', 'TH1.stuck_open', 1)
    expect(Math.abs(engine - 62)).toBeLessThan(6)
    expect(gain).toBeLessThan(0.65 * temperatures('full').gain)
  })

  test.each([
    ['SV4.sticks_operated', undefined, 'cold'],
    ['HM1.air_lock', 1, 'hot'],
    ['PU14.drive_or_coupling_broken', undefined, 'hot'],
  ] as const)('with %s the hose into the matrix tells whether heat is missing or flow', (id, size, hose) => {
    const { engine, inlet, gain } = temperatures('full', id, size)
    expect(engine).toBeGreaterThan(80)
    expect(inlet > 60 ? 'hot' : 'cold').toBe(hose)
    expect(gain).toBeLessThan(0.6 * temperatures('full').gain)
  })

  test('with its thermal fuse open only the last step works, with K14 dead only the last does not', () => {
    const steps = (id: string) => ['low', 'high', 'full'].map((state) => turns(state, id) > 50)
    expect(steps('RB1.thermal_fuse_open')).toEqual([false, false, true])
    expect(steps('K14.coil_open')).toEqual([true, true, false])
  })

  test('on a bad ground its blower slows down as the washer is used', () => {
    const drop = (size?: number) => turns('full', 'G5.high_resistance', size) - turns('full_washer', 'G5.high_resistance', size)
    expect(drop(0.8)).toBeGreaterThan(5 * drop(0.02))
    expect(drop(0.8) / turns('full')).toBeGreaterThan(0.07)
  })
})
