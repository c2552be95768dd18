import { describe, expect, test } from 'vitest'
import { believing } from '../testing/believing.js'
import { bench, faultNamed } from '../testing/relay-lamp.js'
import { fuseFor } from './jumper.js'
import { setupHazards } from './setup-hazards.js'

// Worked by hand: Ohm's law, and a lamp of 21 W at 12 V, which takes a little more than 1.75 A at 12.6 V.

const jumpered = (state: string, from: string, to: string, standing = believing()) => {
  const found = setupHazards(bench, standing, { setup: { state, intervention: { do: 'jumper', from, to } } }, { state })
  if (!found.jumper) throw new Error('no jumper')
  return found.jumper
}

describe('current of a jumper and its fuse', () => {
  test('across an open contact it carries the lamp', () => {
    const { normal, worst, fuse, allowed } = jumpered('key', 'K1.common', 'K1.work')
    expect(normal).toBeGreaterThan(1.75)
    expect(normal).toBeLessThan(1.85)
    expect(worst).toBeCloseTo(normal as number, 1)
    // 1.8 A is four fifths of 2.25 A: the next size is 3 A.
    expect([fuse, allowed]).toEqual([3, true])
  })

  test('across a closed contact the fuse is that of the whole current, not of the share beside the contact', () => {
    const { normal } = jumpered('on', 'F1.a', 'F1.b')
    // Lamp and coil: 1.8 A + 12.6 V / 90 Ohm.
    expect(normal).toBeGreaterThan(1.75 + 0.13)
    expect(normal).toBeLessThan(1.85 + 0.15)
  })

  test('a short behind the contact that is still believed makes the worst current, and is named', () => {
    const short = { fault: faultNamed('4.short_to_ground'), severity: 0.1, sd: 0 }
    const { normal, worst, worstUnder } = jumpered('key', 'K1.common', 'K1.work', believing([short, 0.1]))
    expect(normal).toBeLessThan(2)
    // 12.6 V over the short of 0.1 Ohm, the jumper of 0.02 Ohm, and fuse, wires and battery of 10 to 80 mOhm before its own fuse opens.
    expect(worst).toBeGreaterThan(12.6 / 0.2)
    expect(worst).toBeLessThan(12.6 / 0.13)
    expect(worstUnder).toBe('replace 4')
  })

  test('a fuse must carry the normal current, protect the wires, and break the worst: 1000 A for blades', () => {
    expect(fuseFor(6, 40, 20)).toEqual({ fuse: 7.5, allowed: true })
    expect(fuseFor(6, 40, 5)).toEqual({ fuse: 7.5, allowed: false })
    expect(fuseFor(6, 1200, 20)).toEqual({ fuse: 7.5, allowed: false })
    expect(fuseFor(undefined, 0, 20)).toEqual({ fuse: undefined, allowed: false })
  })

  test('across the supply no fuse fits: it is refused', () => {
    const { normal, fuse, allowed } = jumpered('key', 'BAT.plus', 'BAT.minus')
    expect(normal).toBeGreaterThan(500)
    expect([fuse, allowed]).toEqual([undefined, false])
  })
})
