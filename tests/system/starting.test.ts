import { describe, expect, it } from 'vitest'
import { across, Bay, isOn, libraryText, replaced, systemOf, through } from './library.js'

// Facts of our own design, worked by hand from the ratings in library/starting; wires and joints make up the tolerances.

const text = libraryText('starting')
const marten = new Bay(systemOf(text, 'starting.yaml'))
/** The same machine with batteries of another voltage at rest, both together. */
const withBatteries = (volts: number) => new Bay(systemOf(replaced(text, 'voltage: 12.6 V', `voltage: ${volts / 2} V`)))

/** Volts at the coil of K2 with the wire to the solenoid off, so that nothing cranks. */
function relayVolts(bay: Bay, ohms: number) {
  const plug = bay.fault('X21.1.high_resistance_contact', ohms)
  const arrival = bay.arrive('key_start', [plug], { do: 'unplug', parts: ['210'] })
  return { volts: across(bay, arrival, 'K2.coil_a', 'K2.coil_b'), pulled: isOn(arrival, 'K2:pulled') }
}

describe('starting with interlocks', () => {
  it('a healthy machine comes to rest in every state, one way', () => {
    const states = [...marten.system.states.keys()]
    const arrivals = states.flatMap((state) => marten.machine.arrive([], { state }))
    expect(arrivals.length).toBe(states.length)
    expect(arrivals.filter(({ unsettled }) => unsettled)).toEqual([])
  })

  it('cranking takes 320 A at 20 degC and about 450 A at -15 degC', () => {
    expect(through(marten.arrive('key_start'), 'STM:brushes') / 320).toBeCloseTo(1, 1)
    expect(Math.abs(through(marten.arrive('start_cold'), 'STM:brushes') / 450 - 1)).toBeLessThan(0.05)
  })

  it('interlocks and lock-out hold: in gear or with the engine running nothing engages', () => {
    const held = ['key_on', 'in_gear', 'running', 'start_running']
    expect(held.filter((state) => isOn(marten.arrive(state), 'STM:pulled'))).toEqual([])
    expect(isOn(marten.arrive('start_running'), 'K3:pulled')).toBe(true)
  })

  it('80 Ohm in the tiller plug: K2 gets 18.9 V of 24 V and pulls, 17.8 V of 22.5 V and does not', () => {
    const good = relayVolts(withBatteries(24), 80)
    expect(good.volts).toBeCloseTo((24 * 300) / 380, 1)
    expect(good.pulled).toBe(true)
    const weak = relayVolts(withBatteries(22.5), 80)
    expect(weak.volts).toBeCloseTo((22.5 * 300) / 380, 1)
    expect(weak.pulled).toBe(false)
  })

  it('a plug of 130 Ohm starts only with slave leads', () => {
    const plug = [marten.fault('X21.1.high_resistance_contact', 130)]
    expect(isOn(marten.arrive('key_start', plug), 'STM:pulled')).toBe(false)
    expect(isOn(marten.arrive('slave_start', plug), 'STM:pulled')).toBe(true)
  })

  it('3 mOhm in the strap cost a volt', () => {
    const drop = (ohms?: number) => {
      const arrival = marten.arrive('key_start', ohms ? [marten.fault('9.high_resistance', ohms)] : [])
      return across(marten, arrival, 'G4.b', 'B2.minus')
    }
    expect(drop(3e-3) - drop()).toBeCloseTo(0.95, 1)
  })

  it('an alternator diode that leaks 486 Ohm puts 9 V on K3, which opens the feed of K2', () => {
    const arrival = marten.arrive('key_start', [marten.fault('D3.leaky', 486)])
    expect(across(marten, arrival, 'K3.coil_a', 'K3.coil_b')).toBeCloseTo((25.2 * 270) / (270 + 486), 1)
    expect(isOn(arrival, 'K3:pulled')).toBe(true)
    expect(isOn(arrival, 'STM:pulled')).toBe(false)
  })

  it('a solenoid without its hold winding chatters, and is named', () => {
    const { unsettled } = marten.arrive('key_start', [marten.fault('STM.hold_winding_open')])
    expect(unsettled?.status).toBe('chatters')
    expect(unsettled?.parts.join()).toContain('STM')
  })
})
