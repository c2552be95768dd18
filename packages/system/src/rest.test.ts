import { describe, expect, it } from 'vitest'
import type { System } from './model.js'
import { parseSystem } from './parse-system.js'
import { Realiser } from './realise.js'
import { type Rest, restsOnTheWay } from './rest.js'
import { VESSEL, VESSEL_KINDS } from './testing/vessel.js'

const systemOf = (text: string) => parseSystem(text, 'vessel.yaml', { kinds: VESSEL_KINDS }).system as System
const rests = (text: string, state: string, ...faults: Parameters<typeof restsOnTheWay>[2] & object) =>
  restsOnTheWay(new Realiser(systemOf(text)), state, faults)

describe('on the way into a state', () => {
  it('the machine rests in every state it comes through, and remembers', () => {
    const way = rests(VESSEL, 'cooling') as Rest[]
    expect(way.map(({ state }) => state)).toEqual(['parked', 'on', 'warm', 'hot', 'cooling'])
    expect(way.map(({ settled }) => settled.state['B1:tripped'])).toEqual([false, false, false, true, true])
    expect(way[4].before['B1:tripped']).toBe(true)
    expect(way[4].settings.get('S1.position')).toBe('on')
  })

  it('what opens for good stays open in every state after', () => {
    const way = rests(VESSEL.replace('rating: 5 A', 'rating: 1 mA'), 'warm') as Rest[]
    const blown = { part: 'F1', mode: 'open_by_overload' }
    expect(way.map(({ faults }) => faults)).toEqual([[], [blown], [blown]])
  })

  it('a machine without rest says in which state, and what moves', () => {
    const buzzer = VESSEL.replace('P1.a, K1.common', 'P1.a')
      .replace('[P1.b, K1.coil_a]', '[P1.b, K1.common]')
      .replace('[K1.work, T1.input]', '[K1.rest, K1.coil_a]')
    expect(rests(buzzer, 'low')).toMatchObject({ state: 'low', unsettled: { status: 'chatters', parts: ['K1:pulled'] } })
  })
})
