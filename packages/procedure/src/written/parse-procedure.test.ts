import { describe, expect, it } from 'vitest'
import { GOOD_SHEET, LAMP, lampSheet, line } from '../testing/lamp.js'
import { nextText } from './model.js'
import { parseProcedure } from './parse-procedure.js'

const ends = 'pass: nothing found, fail: no conclusion'

describe('a written procedure', () => {
  it('has its steps in the order of the sheet, each with its setup, what is taken, and where it leads', () => {
    const { steps, complaint } = lampSheet(GOOD_SHEET)
    expect(complaint).toBe('dark')
    expect(steps.slice(0, 4).map(({ id, test }) => `${id}: ${test.id}`)).toEqual([
      'seen: on: look H1.light',
      'fuse: off: look F1.link',
      'feed: on: volts H1.feed BAT.minus',
      'ground: on: volts H1.ground BAT.minus',
    ])
    expect(steps.slice(0, 4).map(({ pass, fail }) => [nextText(pass), nextText(fail)])).toEqual([
      ['nothing found', 'go to fuse'],
      ['go to feed', 'no conclusion'],
      ['go to ground', 'go to relay'],
      ['replace H1', 'clean G1'],
    ])
  })

  it('expects words, a range, one limit, or a display over its range', () => {
    const expected = (text: string) => lampSheet(line('one', `${text}, ${ends}`)).steps[0].expect
    expect(expected('in: on, look: H1.light, expect: bright')).toEqual({ kind: 'words', words: ['bright'] })
    expect(expected('in: on, measure: volts H1.feed BAT.minus, expect: 11..13 V')).toEqual({
      ...{ kind: 'range', dimension: 'voltage' },
      ...{ low: 11, high: 13 },
    })
    expect(expected('in: on, measure: volts H1.feed BAT.minus, expect: at most 1 V')).toMatchObject({ high: 1 })
    expect(expected('in: off, unplug: H1, measure: ohms H1 feed ground, expect: over range')).toEqual({ kind: 'over-range' })
  })

  it('unplugs, bridges or swaps, and names the temperature of a resistance', () => {
    const setup = (text: string) =>
      lampSheet(line('one', `in: on, look: H1.light, expect: bright, ${text}, ${ends}`)).steps[0].test.setup
    expect(setup('unplug: K1').intervention).toEqual({ do: 'unplug', parts: ['K1'] })
    expect(setup('jumper: K1.common K1.work').intervention).toEqual({ do: 'jumper', from: 'K1.common', to: 'K1.work' })
    expect(setup('swap: K1').intervention).toEqual({ do: 'swap', part: 'K1' })
    const coil = 'in: off, unplug: K1, measure: ohms K1 coil_a coil_b, expect: 80..100 Ohm, temperature: 20 degC'
    expect(lampSheet(line('one', `${coil}, ${ends}`)).steps[0].temperature).toBeCloseTo(293.15, 9)
  })

  it('warns of a step that no way leads to, and is read all the same', () => {
    const look = `in: on, look: H1.light, expect: bright, ${ends}`
    const text = `procedure: 1\nsteps:\n${line('a', look)}${line('b', look)}`
    const { procedure, issues } = parseProcedure(text, 'sheet.yaml', LAMP)
    expect(procedure?.steps).toHaveLength(2)
    expect(issues.map(({ code, severity, position }) => `${severity} ${code} ${position?.line}`)).toEqual([
      'warning STEP_UNREACHED 4',
    ])
  })
})
