import { describe, expect, test } from 'vitest'
import { modeIncidence } from './incidence.js'
import { KINDS } from './registry.js'
import * as rules from './testing/rules.js'

describe.each([...KINDS.values()].map((kind) => [kind.name, kind] as const))('%s', (name, kind) => {
  test.each([
    ['names each port once', rules.portsOnce],
    ['has defaults that can be read', rules.defaultsReadable],
    ['has a repair for every mode and no mode twice', rules.modesCured],
    ['has shares of at most the whole', rules.sharesWithinOne],
    ['has sizes of faults that rise', rules.sizesRise],
    ['is made of the same primitives in every condition', rules.samePrimitives],
    ['has finite numbers and no negative conductance in any condition', rules.soundNumbers],
    ['makes a network in every condition', rules.compiles],
    ['differs from healthy in some condition under every mode', rules.everyModeActs],
    ['is as healthy when the size of a fault goes to nothing', rules.nothingIsHealthy],
    ['has looks with their words, levels and quantities', rules.looksSound],
    ['has hazards that are known by what it has', rules.hazardsSound],
    ['has words for signals of its own', rules.wordsSound],
    ['names its own ports, elements and modes', rules.ownNames],
  ])('%s', (_rule, broken) => {
    expect(broken(kind)).toEqual([])
  })

  test('is listed by its name, and its modes make up its incidence', () => {
    expect(KINDS.get(name)).toBe(kind)
    expect(kind.modes.reduce((sum, mode) => sum + modeIncidence(kind, mode.id), 0)).toBeCloseTo(kind.incidence, 12)
  })
})
