import { describe, expect, test } from 'vitest'
import type { SizedFault } from './faults.js'
import { isolatedOhms } from './ohms.js'
import { bench, faultNamed, testNamed } from './testing/relay-lamp.js'

function ohms(id: string, ...faults: SizedFault[]): number {
  const { setup, probe } = testNamed(id)
  if (probe.kind !== 'ohms') throw new Error(`'${id}' is not read in ohms`)
  return isolatedOhms(bench.machine, faults, bench.machine.settingsIn(setup.state), probe, undefined).mean
}

const broken = (id: string, severity?: number): SizedFault => ({ fault: faultNamed(id), severity, sd: 0 })

const FORWARD = 'off + unplug D1: ohms D1 anode cathode'
const BACKWARD = 'off + unplug D1: ohms D1 cathode anode'
const MEGOHM = 1e6

describe('resistance of a part that stands alone', () => {
  test('a coil reads its copper, an open one has no end', () => {
    const coil = 'off + unplug K1: ohms K1 coil_a coil_b'
    expect(ohms(coil)).toBeCloseTo(90, 3)
    expect(ohms(coil, broken('K1.coil_open'))).toBeGreaterThan(40 * MEGOHM)
  })

  test('a diode reads one way only, and the other way when fitted reversed', () => {
    expect(ohms(FORWARD)).toBeLessThan(0.1 * MEGOHM)
    expect(ohms(BACKWARD)).toBeGreaterThan(MEGOHM)
    expect(ohms(FORWARD, broken('D1.fitted_reversed'))).toBeGreaterThan(MEGOHM)
    expect(ohms(BACKWARD, broken('D1.fitted_reversed'))).toBeLessThan(0.1 * MEGOHM)
  })

  test('a diode that is short reads next to nothing both ways, a leaky one its leak backwards', () => {
    expect(ohms(FORWARD, broken('D1.short'))).toBeLessThan(1)
    expect(ohms(BACKWARD, broken('D1.short'))).toBeLessThan(1)
    expect(ohms(BACKWARD, broken('D1.leaky', 1000))).toBeCloseTo(1000, -1)
  })

  test('faults of other parts do not show', () => {
    const pin = 'off + unplug X1: ohms X1.1 a b'
    expect(ohms(pin, broken('X1.2.open_contact'))).toBe(ohms(pin))
    expect(ohms(pin, broken('X1.1.high_resistance_contact', 47))).toBeCloseTo(47, 1)
  })
})
