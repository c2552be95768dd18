import { describe, expect, it } from 'vitest'
import { across, Bay, isOn, libraryText, systemOf, through } from './library.js'

// Facts of our own design, worked by hand from the ratings in library/fan-drive; wires and joints make up the tolerances.

const marten = new Bay(systemOf(libraryText('fan-drive'), 'fan-drive.yaml'))
const ATMOSPHERE = 101325

/** Gauge pressure at the clutch [bar]. */
const clutchBar = (...[state, faults]: Parameters<Bay['arrive']>): number =>
  (across(marten, marten.arrive(state, faults), 'CL1.air') - ATMOSPHERE) / 1e5

const RELEASED = 5
const DRIVEN = 2.5

describe('air fan drive', () => {
  it('a healthy machine comes to rest in every state, the way its parts are meant to', () => {
    const states = [...marten.system.states.keys()]
    const restless = states.filter((state) => marten.machine.arrive([], { state }).some(({ unsettled }) => unsettled))
    expect(restless).toEqual([])
  })

  it('the fan idles cold and warm, and is driven by hot coolant, hot oil and the switch', () => {
    const idle = ['idle_cold', 'warm', 'cooled_again', 'cooled_lamps', 'lamps_on']
    expect(idle.filter((state) => clutchBar(state) > RELEASED)).toEqual(idle)
    const driven = ['fan_switch', 'hot', 'very_hot', 'oil_hot']
    expect(driven.filter((state) => clutchBar(state) < DRIVEN)).toEqual(driven)
  })

  it('the valve takes 0.48 A cold and 0.38 to 0.40 A hot', () => {
    expect(through(marten.arrive('idle_cold'), 'SV1:coil')).toBeCloseTo(0.48, 2)
    const hot = through(marten.arrive('cooled_again'), 'SV1:coil')
    expect(hot).toBeGreaterThan(0.375)
    expect(hot).toBeLessThan(0.405)
  })

  it.each([
    ['fuse', 'F7.open_by_age_or_crack'],
    ['valve', 'SV1.coil_open'],
    ['wire', '706.open'],
    ['ground', 'G3.open'],
    ['main switch', 'S1.open'],
    ['hose', 'A3.bursts'],
  ])('loss of the %s drives the fan from the first minute', (_, id) => {
    expect(clutchBar('idle_cold', [marten.fault(id)])).toBeLessThan(DRIVEN)
  })

  it('without air the fan is driven; a tank at 4 bar lets it drag', () => {
    expect(clutchBar('key_on_cold')).toBeLessThan(DRIVEN)
    expect(clutchBar('air_low')).toBeGreaterThan(DRIVEN)
    expect(clutchBar('air_low')).toBeLessThan(RELEASED)
  })

  it('25 Ohm in the rest contact of K7: the valve pulls cold on 19.2 V, and not again once hot on 20.5 V', () => {
    const contact = [marten.fault('K7.high_contact_resistance', 25)]
    const cold = marten.arrive('idle_cold', contact)
    expect(across(marten, cold, 'SV1.coil_a', 'SV1.coil_b')).toBeCloseTo((27.6 * 57.6) / (57.6 + 25), 0)
    expect(isOn(cold, 'SV1:pulled')).toBe(true)
    const again = marten.arrive('cooled_again', contact)
    const volts = across(marten, again, 'SV1.coil_a', 'SV1.coil_b')
    expect(Math.abs(volts - 20.5)).toBeLessThan(0.15)
    expect(isOn(again, 'SV1:pulled')).toBe(false)
    expect(clutchBar('idle_cold', contact)).toBeGreaterThan(RELEASED)
    expect(clutchBar('cooled_again', contact)).toBeLessThan(DRIVEN)
  })

  it('1.5 Ohm in G3 lifts the ground by about 7 V with the work lamps on: only then the hot valve does not pull again', () => {
    const ground = [marten.fault('G3.high_resistance', 1.5)]
    expect(clutchBar('cooled_again', ground)).toBeGreaterThan(RELEASED)
    expect(clutchBar('lamps_on', ground)).toBeGreaterThan(RELEASED)
    const lamps = marten.arrive('cooled_lamps', ground)
    expect(Math.abs(across(marten, lamps, 'G3.a', 'BAT.minus') - 7)).toBeLessThan(0.5)
    expect(isOn(lamps, 'SV1:pulled')).toBe(false)
  })

  it('a valve that opens above 70 degC leaves the fan driven once it is hot', () => {
    const coil = [marten.fault('SV1.coil_opens_when_hot', 351.25)]
    expect(clutchBar('warm', coil)).toBeGreaterThan(RELEASED)
    expect(clutchBar('cooled_again', coil)).toBeLessThan(DRIVEN)
  })

  it('a relay coil or a coolant switch that is open, or one that trips at 101 degC: no fan when hot', () => {
    expect(clutchBar('very_hot', [marten.fault('K7.coil_open')])).toBeGreaterThan(RELEASED)
    expect(clutchBar('very_hot', [marten.fault('TS1.stays_open')])).toBeGreaterThan(RELEASED)
    const late = [marten.fault('TS1.trip_point_drifted', 11)]
    expect(clutchBar('hot', late)).toBeGreaterThan(RELEASED)
    expect(clutchBar('very_hot', late)).toBeLessThan(DRIVEN)
  })

  it('a regulator at 4.2 bar lets the clutch drag', () => {
    const bar = clutchBar('idle_cold', [marten.fault('R1.set_point_drifted', -2.3e5)])
    expect(bar).toBeCloseTo(4.2, 1)
  })

  it('an exhaust iced shut keeps the clutch released when it should drive', () => {
    expect(clutchBar('hot', [marten.fault('SV1.exhaust_or_filter_blocked')])).toBeGreaterThan(RELEASED)
  })

  it('water between the pins of the thermal switches pulls K7 cold', () => {
    const arrival = marten.arrive('idle_cold', [marten.fault('X14.1+X14.2.water_bridge_between_pins', 100)])
    expect(isOn(arrival, 'K7:pulled')).toBe(true)
  })

  it('a diode fitted the wrong way round blows F7', () => {
    const arrival = marten.arrive('key_on_cold', [marten.fault('D1.fitted_reversed')])
    expect(arrival.blown.map(({ part }) => part)).toEqual(['F7'])
  })
})
