import { describe, expect, it } from 'vitest'
import { GOOD_SHEET, LAMP, lampSheet } from '../testing/lamp.js'
import type { TakenAtStep } from './passes.js'
import { walk } from './walk.js'

const sheet = lampSheet(GOOD_SHEET)
const fuseMinutes = sheet.steps[1].test.minutes
const shown = (answers: Record<string, TakenAtStep>) => walk(LAMP, sheet, ({ id }) => answers[id])

describe('a walk through a sheet', () => {
  it('follows what is shown to the conclusion', () => {
    const { conclusion, taken } = shown({
      seen: { word: 'dark' },
      fuse: { word: 'intact' },
      feed: { value: 12.1 },
      ground: { value: 11.9 },
    })
    expect(conclusion).toEqual({ kind: 'repair', repair: 'clean G1' })
    expect(taken.map(({ step, passed }) => [step.id, passed])).toEqual([
      ['seen', false],
      ['fuse', true],
      ['feed', true],
      ['ground', false],
    ])
  })

  it('ends at once where nothing is the matter', () => {
    expect(shown({ seen: { word: 'bright' } }).conclusion).toEqual({ kind: 'nothing found' })
  })

  // From on to off and back: half a minute and one. The fuse: a minute's way and what its kind says. Each reading 1.5 min, the way
  // to the mast 4 min, once.
  it('counts the minutes of its steps, and a way or a state once', () => {
    const one = shown({ seen: { word: 'bright' } }).minutes
    const three = shown({ seen: { word: 'dark' }, fuse: { word: 'intact' }, feed: { value: 12.1 }, ground: { value: 0 } })
    expect(three.minutes - one).toBeCloseTo(0.5 + 1 + fuseMinutes + 1 + 4 + 1.5 + 1.5, 9)
    expect(three.at.places).toEqual(['mast'])
  })
})
