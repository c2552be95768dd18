import { ASSUMPTIONS, normalCdf } from '@halfsplit/core'
import { describe, expect, test } from 'vitest'
import type { Done } from './evidence.js'
import { sized, stretches } from './faults.js'
import { LatentSpace } from './latent-space.js'
import { type Course, courses, underCourse } from './life.js'
import { faultNamed, system } from './testing/relay-lamp.js'

const space = new LatentSpace(system)

function faultAt(id: string) {
  const fault = faultNamed(id)
  return sized(fault, stretches(fault.severity)[0])
}

/** Chance of a course: its conditions, each a normal margin of its own. */
const shareOf = ({ conditions }: Course): number =>
  conditions.reduce((share, { mean, side }) => share * normalCdf(side * mean), 1)

/** Chance that the fault is still there. */
const stays = (id: string, actions: readonly Done[], segment = actions.length): number =>
  courses([faultAt(id)], actions, segment, space)
    .filter(({ faults }) => faults.length > 0)
    .reduce((sum, course) => sum + shareOf(course), 0)

describe('courses of a fault through actions', () => {
  const renewed: Done = { kind: 'repaired', repairs: ['renew X1.1'] }
  const pulled: Done = { kind: 'disturbed', parts: ['X1'] }

  test('the repair that cures it takes it away, but for a new part that is bad', () => {
    expect(stays('X1.1.high_resistance_contact', [renewed])).toBeCloseTo(ASSUMPTIONS.badNewPart, 9)
  })

  test('another repair, or one that comes later, changes nothing', () => {
    expect(stays('X1.1.high_resistance_contact', [{ kind: 'repaired', repairs: ['replace K1'] }])).toBe(1)
    expect(stays('X1.1.high_resistance_contact', [renewed], 0)).toBe(1)
  })

  test('a plug pulled and put back may be well again for now, each time anew', () => {
    expect(stays('X1.1.high_resistance_contact', [pulled])).toBeCloseTo(1 - ASSUMPTIONS.disturbedCures, 9)
    expect(stays('X1.1.high_resistance_contact', [pulled, pulled])).toBeCloseTo((1 - ASSUMPTIONS.disturbedCures) ** 2, 9)
  })

  test('an open coil is not cured by pulling its relay', () => {
    expect(stays('K1.coil_open', [{ kind: 'disturbed', parts: ['K1'] }])).toBe(1)
  })

  test('what comes and goes is there with the share the owner gives', () => {
    expect(stays('X1.1.intermittent_contact', [])).toBeCloseTo(ASSUMPTIONS.intermittentPresent, 9)
    const often = courses([faultAt('X1.1.intermittent_contact')], [], 0, space, 0.7)
    expect(often.map((course) => [course.faults.length, shareOf(course)])).toEqual([
      [1, expect.closeTo(0.7, 9)],
      [0, expect.closeTo(0.3, 9)],
    ])
  })

  test('what comes and goes is there more often while its plug is wiggled, and after that as before', () => {
    const wiggled: Done = { kind: 'disturbed', parts: [], provoked: { how: 'wiggle', parts: ['X1'] } }
    expect(stays('X1.1.intermittent_contact', [wiggled])).toBeCloseTo(ASSUMPTIONS.provokedPresent, 9)
    expect(stays('X1.1.intermittent_contact', [wiggled, { kind: 'disturbed', parts: [] }])).toBeCloseTo(
      ASSUMPTIONS.intermittentPresent,
      9,
    )
    expect(stays('K1.coil_open', [wiggled])).toBe(1)
  })

  test('every way together is certain, for two faults as for one', () => {
    const all = courses(
      [faultAt('X1.1.high_resistance_contact'), faultAt('X1.2.intermittent_contact')],
      [renewed, pulled],
      2,
      space,
    )
    expect(all.reduce((sum, course) => sum + shareOf(course), 0)).toBeCloseTo(1, 9)
  })

  test('later readings share the outcome of one action: its chance is one latent', () => {
    const latents = (segment: number) =>
      courses([faultAt('X1.1.high_resistance_contact')], [pulled, renewed], segment, space)[0].conditions[0].sensitivities.index
    expect(latents(1)).toEqual(latents(2))
  })

  test('what must hold for the course must hold for each of its branches', () => {
    const [course] = courses([faultAt('X1.1.high_resistance_contact')], [pulled], 1, space)
    const [branch] = underCourse(course, [{ conditions: [], predictions: [] }])
    expect(branch.conditions).toEqual(course.conditions)
  })
})
