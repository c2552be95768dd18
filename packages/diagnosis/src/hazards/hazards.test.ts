import type { Meter } from '@halfsplit/core'
import { describe, expect, test } from 'vitest'
import type { Test } from '../tests.js'
import { believing } from '../testing/believing.js'
import { bench, faultNamed, system } from '../testing/relay-lamp.js'
import { groupsOf, type LogItem } from '../evidence.js'
import { ohmsAllowed } from './ohms-allowed.js'
import { safeToMove } from './safe-to-move.js'
import { setupHazards } from './setup-hazards.js'

const ohms = (part: string): Test => {
  const found = bench.tests.find(({ probe }) => probe.kind === 'ohms' && probe.part === part)
  if (!found) throw new Error(`no ohms of ${part}`)
  return found
}

const welded = { fault: faultNamed('K1.contacts_welded'), sd: 0 }

describe('what is there in a setup, and what begins', () => {
  const lampIn = (state: string, from: string | undefined, standing = believing()) =>
    setupHazards(
      bench,
      standing,
      { setup: { state, intervention: { do: 'swap', part: 'E1' } } },
      from === undefined ? undefined : { state: from },
    ).computed.find(({ part }) => part.name === 'E1')

  test('a lamp that is lit is hot to whoever takes it out; in the dark it is not', () => {
    expect(lampIn('on', 'key')).toMatchObject({ present: 1, begins: 1, sound: true, hazard: { title: 'hot' } })
    expect(lampIn('on', 'on')).toMatchObject({ present: 1, begins: 0 })
    expect(lampIn('key', 'key')).toBeUndefined()
  })

  test('where nobody has been at the machine yet all that is there begins', () => {
    expect(lampIn('on', undefined)).toMatchObject({ present: 1, begins: 1 })
  })

  test('what only a fault brings has the odds of that fault, and names its repair', () => {
    expect(lampIn('key', 'key', believing([welded, 0.3]))).toMatchObject({ sound: false, mostly: ['replace K1'] })
    expect(lampIn('key', 'key', believing([welded, 0.3]))?.present).toBeCloseTo(0.3, 9)
  })

  test('hands that do not come near a lamp are not warned of it', () => {
    const { computed } = setupHazards(bench, believing(), { setup: { state: 'on' } }, { state: 'key' })
    expect(computed.map(({ part }) => part.name)).not.toContain('E1')
  })
})

describe('ohms', () => {
  test('at a part behind the battery, whose end is live in the dead state, they wait until it is proved dead', () => {
    const { allowed, maybeLive, proof } = ohmsAllowed(bench, believing(), ohms('F1'))
    expect([allowed, maybeLive]).toEqual([false, 1])
    expect(proof).toEqual({ points: ['F1.a', 'F1.b'], minus: 'BAT.minus', below: 0.1 })
    expect(ohmsAllowed(bench, believing(), ohms('F1'), true).allowed).toBe(true)
  })

  test('volts near zero from both points to battery minus prove it; between the points alone they prove nothing', () => {
    const meter = system.meters.find(({ quantity }) => quantity === 'voltage') as Meter
    const read = (...points: readonly (readonly [red: string, black: string, volts: number])[]) => {
      const taken = points.map(
        ([red, black, value]): LogItem => ({
          kind: 'taken',
          taken: {
            setup: { state: 'off' },
            probe: { kind: 'volts', red, black, meter },
            outcome: { kind: 'number', value, halfWidth: 0.005 },
          },
        }),
      )
      return ohmsAllowed(bench, { ...believing(), ...groupsOf(taken) }, ohms('F1')).allowed
    }
    expect(read(['F1.a', 'BAT.minus', 0.02], ['F1.b', 'BAT.minus', 0.01])).toBe(true)
    expect(read(['F1.a', 'BAT.minus', 12.5], ['F1.b', 'BAT.minus', 0.01])).toBe(false)
    expect(read(['F1.a', 'F1.b', 0])).toBe(false)
  })

  test('at a point that only a fault makes live they are free as long as hardly anybody believes in it', () => {
    expect(ohmsAllowed(bench, believing(), ohms('E1'))).toMatchObject({ allowed: true, maybeLive: 0 })
    expect(ohmsAllowed(bench, believing([welded, 0.1]), ohms('E1')).allowed).toBe(false)
    expect(ohmsAllowed(bench, believing([welded, 0.001]), ohms('E1')).allowed).toBe(true)
  })

  test('never in a state with power', () => {
    const test = { ...ohms('E1'), setup: { state: 'on' } }
    expect(ohmsAllowed(bench, believing(), test, true)).toMatchObject({ allowed: false, dead: false })
  })
})

describe('safe to move or not', () => {
  test('a sound machine is never called safe: it is not known', () => {
    expect(safeToMove(bench, believing())).toEqual({ verdict: 'not known', could: [], followed: 1 })
  })

  test('a short on a fused wire opens the fuse; nothing burns', () => {
    const short = { fault: faultNamed('2.short_to_ground'), severity: 0.05, sd: 0 }
    const { verdict, could } = safeToMove(bench, believing([short, 0.4]))
    expect(could.map(({ consequence: { kind, part } }) => `${kind} ${part.name}`)).toEqual(['opens F1'])
    expect(could[0].probability).toBeCloseTo(0.4, 9)
    expect(verdict).toBe('not known')
  })
})

test('hazards ask for no more than the likeliest hypotheses, and say how much of the belief that is', () => {
  const many = bench.faults.filter(({ severity }) => !severity).slice(0, 30)
  const standing = believing(...many.map((fault) => [{ fault, sd: 0 }, 1 / (many.length + 1)] as const))
  const { followed } = setupHazards(bench, standing, { setup: { state: 'on' } }, { state: 'key' })
  expect(many.length).toBe(30)
  expect(followed).toBeGreaterThan(0.7)
  expect(followed).toBeLessThan(0.95)
  expect(system.states.has('on')).toBe(true)
})
