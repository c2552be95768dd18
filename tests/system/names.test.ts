import { Bench, type LogItem, predictAll, type TestProbe, weighTests } from '@halfsplit/diagnosis'
import type { NumberPrediction } from '@halfsplit/inference'
import type { System } from '@halfsplit/system'
import { describe, expect, it } from 'vitest'
import { across, Bay, libraryText, replaced, systemOf } from './library.js'
import { type Rename, scrambled } from './scramble.js'

const trailer = libraryText('trailer-lights')

function voltmeter(system: System) {
  const meter = system.meters.find(({ quantity }) => quantity === 'voltage')
  if (!meter) throw new Error('no voltmeter')
  return meter
}

const volts = (system: System, red: string, black: string): TestProbe => ({ kind: 'volts', red, black, meter: voltmeter(system) })

describe('a description is the only place where a machine stands', () => {
  /** Expected reading of a healthy machine and half the width of its limits (99 % of its displays). */
  function expected(text: string, state: string, red: string, black: string) {
    const bay = new Bay(systemOf(text))
    const [{ predictions }] = predictAll(bay.machine, [], { state }, [volts(bay.system, red, black)])
    const { mean, sensitivities, freshSd } = predictions[0] as NumberPrediction
    const spread = Math.hypot(freshSd, ...Array.from(sensitivities.value))
    return { mean, limit: 2.576 * spread }
  }
  // Joints of 4 mOhm in the middle, a factor of 2 at one sd: the mean of a lognormal is exp(s^2/2) times its middle [mOhm].
  const JOINTS = 4 * Math.exp(Math.LN2 ** 2 / 2)
  const drop = (text: string) => expected(text, 'stop', 'S11.b', 'X7.6/a')

  it('a wire ten times as long loses ten times the volts in its copper', () => {
    const short = drop(trailer)
    const long = drop(
      replaced(trailer, '312: { from: S11.b, to: X7.6/a, length: 5 m', '312: { from: S11.b, to: X7.6/a, length: 50 m'),
    )
    // 0.0172 Ohm mm2/m in 4 mm2: 4.3 mOhm for a metre, and the joints at both lengths.
    expect(long.mean / short.mean).toBeCloseTo((50 * 4.3 + JOINTS) / (5 * 4.3 + JOINTS), 0)
    expect(long.limit).toBeGreaterThan(short.limit)
  })

  it('a thinner wire loses more', () => {
    const thin = drop(replaced(trailer, 'to: X7.6/a, length: 5 m, size: 4 mm2', 'to: X7.6/a, length: 5 m, size: 1 mm2'))
    expect(thin.mean / drop(trailer).mean).toBeCloseTo((5 * 17.2 + JOINTS) / (5 * 4.3 + JOINTS), 0)
  })

  it('a stronger lamp takes more, and a battery known less closely has wider limits', () => {
    const strong = drop(replaced(trailer, 'stop_power: 21 W', 'stop_power: 42 W'))
    expect(strong.mean / drop(trailer).mean).toBeGreaterThan(1.8)
    const lamp = (text: string) => expected(text, 'stop', 'L1.stop', 'L1.ground')
    const vague = replaced(trailer, 'voltage: 12.8 V +- 2 %', 'voltage: 12.8 V +- 6 %')
    expect(lamp(vague).limit / lamp(trailer).limit).toBeGreaterThan(2)
  })

  it('what it is worth to test follows: a fuse that nobody can reach is tested later', () => {
    const next = (text: string) => {
      const bench = new Bench(systemOf(text))
      const { shows } = bench.system.complaints.find(({ id }) => id === 'no_tail_lights') ?? { shows: [] }
      const from = { setup: { state: 'parked' }, places: [] }
      const weighed = weighTests(bench, bench.standing([], { shows }), { from })
      return weighed.findIndex(({ test }) => test.places.includes('truck fuse box'))
    }
    const far = replaced(trailer, 'truck fuse box: { minutes: 1', 'truck fuse box: { minutes: 90')
    expect(next(far)).toBeGreaterThan(next(trailer))
  })
})

describe('names carry no meaning', () => {
  interface Reading {
    state: string
    red: string
    black: string
  }

  /** The repairs believed after the same readings of the same fault, described under names changed by `rename`. */
  function verdicts(text: string, rename: Rename, point: Rename, fault: string, complaint: string, readings: Reading[]) {
    const plain = new Bay(systemOf(libraryText('trailer-lights')))
    const system = systemOf(text)
    const bench = new Bench(system)
    const log = readings.map(({ state, red, black }): LogItem => {
      const value = across(plain, plain.arrive(state, [plain.fault(fault, 5)]), red, black)
      const outcome = { kind: 'number', value: Number(value.toFixed(2)), halfWidth: 0.005 } as const
      return {
        kind: 'taken',
        taken: { setup: { state: rename(state) }, probe: volts(system, point(red), point(black)), outcome },
      }
    })
    const { shows } = system.complaints.find(({ id }) => id === rename(complaint)) ?? { shows: [] }
    const standing = bench.standing(log, { shows })
    return { ...standing, repairs: new Map(standing.repairs.map(({ repair, probability }) => [repair, probability])) }
  }

  it('the same verdicts under scrambled names', () => {
    const readings = [
      { state: 'tail_stop', red: 'L1.tail', black: 'L1.ground' },
      { state: 'tail_stop', red: 'L1.ground', black: 'BAT.minus' },
      { state: 'tail', red: 'GL.a', black: 'GL.b' },
    ]
    const same = (name: string) => name
    const plain = verdicts(trailer, same, same, 'GL.high_resistance', 'left_side_dim', readings)
    const { text, rename, point } = scrambled(trailer)
    const other = verdicts(text, rename, point, 'GL.high_resistance', 'left_side_dim', readings)
    const [first] = plain.repairs.keys()
    expect(first).toBe('clean GL')
    expect(plain.repairs.get(first)).toBeGreaterThan(0.9)
    expect(other.repairs.size).toBe(plain.repairs.size)
    const apart = [...plain.repairs].filter(([repair, probability]) => {
      const [what, part] = repair.split(' ')
      return !(Math.abs((other.repairs.get(`${what} ${point(part)}`) ?? -1) - probability) < 1e-9)
    })
    expect(apart).toEqual([])
    expect(Math.abs(other.notDescribed - plain.notDescribed)).toBeLessThan(1e-9)
    expect(Math.abs(other.nothingWrong - plain.nothingWrong)).toBeLessThan(1e-9)
  })
})
