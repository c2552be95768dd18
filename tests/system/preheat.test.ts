import { describe, expect, test } from 'vitest'
import { Bay, across, isOn, libraryText, systemOf, through } from './library.js'

// System B of the project's compilation of trade practice: four plugs take 60 A, falling to 44 A in ten seconds; one open 45 A, two 30 A.
const bay = new Bay(systemOf(libraryText('preheat'), 'preheat.yaml'))
const amps = (state: string, faults: Parameters<Bay['arrive']>[1] = []): number => through(bay.arrive(state, faults), '32:run')

describe('preheat of Badger', () => {
  test('takes some 60 A at first and some 44 A once the plugs glow', () => {
    expect(Math.abs(amps('glow') - 60)).toBeLessThan(4)
    expect(Math.abs(amps('glow_10s') - 44)).toBeLessThan(3)
    expect(amps('ready')).toBeLessThan(0.1)
    expect(amps('warm')).toBeLessThan(0.1)
  })

  test.each([
    [['H2.open'], 48],
    [['H2.open', 'H3.open'], 33],
    [['K1.coil_open'], 0],
    [['FL2.open_by_age_or_crack'], 0],
  ] as const)('with %j the clamp reads about %d A', (faults, reading) => {
    expect(
      Math.abs(
        amps(
          'glow',
          faults.map((id) => bay.fault(id)),
        ) - reading,
      ),
    ).toBeLessThan(3)
  })

  test('a bad strap makes it glow weakly and crank slowly at once', () => {
    const bad = [bay.fault('G1.high_resistance', 0.009)]
    expect(amps('crank', bad)).toBeLessThan(0.9 * amps('crank'))
    const speed = (faults: typeof bad) => across(bay, bay.arrive('crank', faults), 'STM.battery', 'STM.ground')
    expect(speed(bad)).toBeLessThan(speed([]) - 1.5)
  })

  test('an open sender keeps the lamp on, a shorted one keeps it dark, a short time turns it off', () => {
    const lit = (state: string, id?: string, size?: number) =>
      isOn(bay.arrive(state, id === undefined ? [] : [bay.fault(id, size)]), 'M1:lamp_on')
    expect([lit('glow'), lit('ready'), lit('ready', 'NTC1.open'), lit('glow', 'NTC1.short')]).toEqual([true, false, true, false])
    expect(lit('glow_10s', 'M1.timing_or_threshold_drifted', -0.7)).toBe(false)
  })

  test('a plug whose tip is grounded blows the link', () => {
    const blown = bay.arrive('glow', [bay.fault('H3.short')]).blown
    expect(blown).toEqual([{ part: 'FL2', mode: 'open_by_overload' }])
  })
})
