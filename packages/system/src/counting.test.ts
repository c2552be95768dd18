import { describe, expect, it } from 'vitest'
import { type Counting, countingIn } from './counting.js'
import type { System } from './model.js'
import { parseSystem } from './parse-system.js'
import { Realiser } from './realise.js'
import { VESSEL, VESSEL_KINDS } from './testing/vessel.js'

const counting = (state: string, text = VESSEL) => {
  const { system } = parseSystem(text, 'vessel.yaml', { kinds: VESSEL_KINDS })
  return countingIn(new Realiser(system as System), state) as Counting[]
}
const degC = (value: number) => value + 273.15

describe('a switch within its hysteresis', () => {
  it('came up from cold: open, and closed had it come down', () => {
    const found = counting('warm')
    expect(found).toHaveLength(1)
    expect(found[0]).toMatchObject({
      because: 'side',
      is: 'open',
      otherwise: 'closed',
      from: 'below',
      since: 'on',
      dimension: 'temperature',
    })
    expect(found[0]).toMatchObject({
      reset: expect.closeTo(degC(83), 9),
      trip: expect.closeTo(degC(90), 9),
      input: expect.closeTo(degC(86), 3),
      part: expect.objectContaining({ name: 'B1' }),
    })
  })

  it('came down from hot: closed', () => {
    expect(counting('cooling')).toMatchObject([{ is: 'closed', otherwise: 'open', from: 'above', since: 'hot' }])
  })

  it('is nothing to tell of outside it', () => {
    expect(counting('hot')).toEqual([])
  })

  it('from the very beginning has no state to name', () => {
    const text = VESSEL.replace('set: { V1.pressure: 0 bar }', 'set: { V1.pressure: 0 bar, COOL.temperature: 86 degC }')
    expect(counting('parked', text)).toMatchObject([{ from: 'below', since: undefined }])
  })

  it('of pressure opens rising: closed while it came up', () => {
    const text = VESSEL.replace(
      'low: { from: on, set: { V1.pressure: 3.5 bar } }',
      'mid: { from: parked, set: { V1.pressure: 4.6 bar } }',
    )
    expect(counting('mid', text)).toMatchObject([
      { dimension: 'pressureDifference', is: 'closed', from: 'below', since: 'parked' },
    ])
  })
})

describe('a timer', () => {
  it('that starts on the way into the state is to be waited for, with its tolerance', () => {
    expect(counting('low')).toMatchObject([
      { because: 'timer', part: { name: 'T1' }, delay: 10, shortest: 9, longest: 11, goes: 'on' },
    ])
  })

  it('that delays going off is waited for when its input goes off, not when it comes on', () => {
    const text = VESSEL.replace('delay: 10 s', 'type: TOF, delay: 10 s').replace(
      'low: { from: on, set: { V1.pressure: 3.5 bar } }',
      'low: { from: on, set: { V1.pressure: 3.5 bar } }\n  full: { from: low, set: { V1.pressure: 8 bar } }',
    )
    expect(counting('low', text)).toEqual([])
    expect(counting('full', text)).toMatchObject([{ because: 'timer', goes: 'off' }])
  })
})
