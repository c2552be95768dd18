import fc from 'fast-check'
import { expect, it } from 'vitest'
import { LAMP, line } from '../testing/lamp.js'
import { parseProcedure } from './parse-procedure.js'
import { walk } from './walk.js'

const ENDS = ['nothing found', 'no conclusion', 'replace K1', 'clean G1']

/** Sheets of up to eight steps that lead anywhere at all, and an answer for each step. */
const sheets = fc.array(fc.record({ pass: fc.nat(11), fail: fc.nat(11), bright: fc.boolean() }), { minLength: 1, maxLength: 8 })

const next = (to: number, steps: number): string => (to < steps ? `go to s${to}` : ENDS[to % ENDS.length])

it('a sheet is refused because it leads back, or every walk through it ends, each step taken once', () => {
  fc.assert(
    fc.property(sheets, (steps) => {
      expect(endsOrLeadsBack(steps)).toBe(true)
    }),
  )
})

function endsOrLeadsBack(steps: readonly { pass: number; fail: number; bright: boolean }[]): boolean {
  const lines = steps.map(({ pass, fail }, i) =>
    line(`s${i}`, `in: on, look: H1.light, expect: bright, pass: ${next(pass, steps.length)}, fail: ${next(fail, steps.length)}`),
  )
  const { procedure, issues } = parseProcedure(`procedure: 1\nsteps:\n${lines.join('')}`, 'sheet.yaml', LAMP)
  if (!procedure) return issues.some(({ code }) => code === 'CYCLIC_STEPS')
  const { taken, minutes, conclusion } = walk(LAMP, procedure, ({ id }) => ({
    word: steps[Number(id.slice(1))].bright ? 'bright' : 'dark',
  }))
  const once = new Set(taken.map(({ step }) => step.id)).size === taken.length
  return once && minutes > 0 && ENDS.includes(conclusion.kind === 'repair' ? conclusion.repair : conclusion.kind)
}
