import { describe, expect, test } from 'vitest'
import { Machine } from './machine.js'
import { probeKey } from './probe.js'
import { bench, system } from './testing/relay-lamp.js'
import { generateTests } from './tests.js'
import { Worth } from './worth.js'

const ids = bench.tests.map(({ id }) => id)

describe('tests worth keeping', () => {
  test('every probe that can be taken stays in some state', () => {
    const kept = new Set(bench.tests.map(({ setup, probe }) => `${setup.intervention?.do} ${probeKey(probe)}`))
    const lost = generateTests(system).filter(
      ({ setup, probe }) => probe.kind !== 'look' && !kept.has(`${setup.intervention?.do} ${probeKey(probe)}`),
    )
    expect(lost).toEqual([])
  })

  test('a reading that is the same in two states is taken in one', () => {
    expect(ids.filter((id) => id.endsWith(': volts BAT.plus BAT.minus')).length).toBe(1)
  })

  test('at most two states of one reading stay, that with most to show first', () => {
    const feed = ids.filter((id) => /^\w+: volts E1.feed BAT.minus$/.test(id))
    expect(feed).toEqual(['on: volts E1.feed BAT.minus', 'key: volts E1.feed BAT.minus'])
  })

  test('a jumper is watched only where a missing part would show', () => {
    expect(ids).toContain('on + jumper S1.a S1.b: look E1.light')
    expect(ids.some((id) => id.startsWith('key + jumper'))).toBe(false)
  })

  test('what is kept does not depend on the order of the tests', () => {
    const all = generateTests(system)
    const names = (list: typeof all) =>
      new Worth(new Machine(system))
        .kept(list)
        .map(({ id }) => id)
        .sort()
    expect(names([...all].reverse())).toEqual(names(all))
  })
})
