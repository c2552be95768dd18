import { probeValue, settle } from '@halfsplit/network'
import { describe, expect, test } from 'vitest'
import { Bench, type Fitted } from '../testing/bench.js'
import { filamentLaw } from './filament.js'
import { battery } from './battery.js'
import { ground } from './ground.js'
import { lamp } from './lamp.js'
import { twinLamp } from './twin-lamp.js'

type On = Readonly<Record<'tail' | 'stop' | 'turn', boolean>>

/** Left and right cluster on a common tail, stop and (left) turn feed; ideal feeds, so that the table's ground alone is at work. */
function trailer(leftGround: string, on: On): (point: string, against?: string) => number {
  const bench = new Bench()
  const feed = (name: string, live: boolean, volts: string) => {
    const ideal = { ratings: { voltage: volts, resistance: '0.01 mOhm', clamp: '0.01 mOhm' } }
    if (live) bench.fit(battery, `feed of ${name}`, { plus: name, minus: '0' }, ideal)
  }
  feed('tail', on.tail, '12.6 V')
  feed('stop', on.stop, '12.4 V')
  feed('turn', on.turn, '12.4 V')
  const joint = (text: string): Fitted => ({ ratings: { joint: text } })
  bench.fit(ground, 'GL', { a: 'left', b: '0' }, leftGround === 'open' ? { fault: ['open'] } : joint(leftGround))
  bench.fit(ground, 'GR', { a: 'right', b: '0' }, joint('0.02 Ohm'))
  const fit = (name: string, power: string, from: string, to: string) =>
    bench.fit(lamp, name, { feed: from, ground: to }, { ratings: { power, holder: '0.01 mOhm' } })
  for (const side of ['left', 'right']) {
    fit(`${side} tail`, '5 W', 'tail', side)
    fit(`${side} marker`, '5 W', 'tail', side)
    fit(`${side} stop`, '21 W', 'stop', side)
  }
  fit('left turn', '21 W', 'turn', 'left')
  const settled = settle(bench)
  if (settled.status !== 'settled') throw new Error(settled.status)
  return (point, against = '0') => probeValue(settled, { across: { [point]: 1, [against]: -1 } })
}

const OFF = { tail: false, stop: false, turn: false }

describe('lamp', () => {
  // Source: the table of the trailer lights in the project's own compilation of trade practice, solved by its authors with
  // R = max(hot (v/13.5)^0.45, hot/12), tail and marker on the left ground, right side good. Given to 0.1 V.
  // Rows: left ground | tail on: left tail | tail + stop: left tail, left stop, right stop | turn only: left tail, right stop.
  test.each([
    ['0.02 Ohm', 12.6, 12.6, 12.4, 12.4, 0, 0],
    ['1 Ohm', 12.1, 10.6, 10.4, 12.4, 0.5, 0.5],
    ['5 Ohm', 11, 5.6, 5.4, 12.4, 1.5, 1.5],
    ['open', 8.3, 0.15, -0.05, 12.4, 3.1, 3.1],
  ])(
    'a trailer with %s in its left ground reads as the table says',
    (leftGround, tail, both, stop, rightStop, turnTail, turnRight) => {
      const dusk = trailer(leftGround, { ...OFF, tail: true })
      const braking = trailer(leftGround, { ...OFF, tail: true, stop: true })
      const turning = trailer(leftGround, { ...OFF, turn: true })
      expect.soft(Math.abs(dusk('tail', 'left') - tail)).toBeLessThan(0.1)
      expect.soft(Math.abs(braking('tail', 'left') - both)).toBeLessThan(0.1)
      expect.soft(Math.abs(braking('stop', 'left') - stop)).toBeLessThan(0.1)
      expect.soft(Math.abs(braking('stop', 'right') - rightStop)).toBeLessThan(0.1)
      expect.soft(Math.abs(Math.abs(turning('tail', 'left')) - turnTail)).toBeLessThan(0.1)
      expect.soft(Math.abs(Math.abs(turning('stop', 'right')) - turnRight)).toBeLessThan(0.1)
    },
  )

  test('a filament takes its power at its rated voltage and has a twelfth of its resistance cold', () => {
    const law = filamentLaw(21, 13.5)
    if (law.law !== 'filament') throw new Error('not a filament')
    const hot = law.cold * (1 + (13.5 / law.knee) ** 2) ** law.exponent
    expect(hot).toBeCloseTo(13.5 ** 2 / 21, 9)
    expect(law.cold).toBeCloseTo(hot / 12, 9)
  })

  test('two filaments that touch light each other', () => {
    const bench = new Bench()
      .fit(battery, 'G1', { plus: 'tail', minus: '0' })
      .fit(twinLamp, 'P1', { tail: 'tail', stop: 'stop', ground: '0' }, { fault: ['filament_shorted_to_its_neighbour'] })
    const settled = settle(bench)
    if (settled.status !== 'settled') throw new Error(settled.status)
    expect(probeValue(settled, { across: { stop: 1 } })).toBeGreaterThan(12)
  })
})
