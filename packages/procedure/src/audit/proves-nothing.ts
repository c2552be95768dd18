import { ASSUMPTIONS } from '@halfsplit/core'
import { entropyBits } from '@halfsplit/inference'
import type { Procedure } from '../written/model.js'
import type { ProvesNothing } from './findings.js'
import type { Answers, Followed } from './follow.js'

/** Steps that tell less about the repair than a blind test by the bench's rule, of all that come to them on the sheet's way. */
export function provesNothing({ steps }: Procedure, { answers }: Followed): ProvesNothing[] {
  return steps.flatMap((step) => {
    const bits = informationOf(answers.get(step.id))
    return bits < ASSUMPTIONS.blindBits ? [{ kind: 'proves nothing', step, bits, why: whyOf(answers.get(step.id)) }] : []
  })
}

/** Information of a step's answer about the repair [bit]: entropy of the repairs, less what is left of it after either answer. */
export function informationOf(answers: Answers | undefined): number {
  const rows = [...(answers?.values() ?? [])]
  const [pass, fail] = [rows.map((one) => one.pass), rows.map((one) => one.fail)]
  const [passed, failed] = [sumOf(pass), sumOf(fail)]
  const all = passed + failed
  if (!(all > 0)) return 0
  const left = (passed > 0 ? passed * entropyBits(pass) : 0) + (failed > 0 ? failed * entropyBits(fail) : 0)
  return Math.max(0, entropyBits(rows.map((one) => one.pass + one.fail)) - left / all)
}

/** An answer rarer than this is no answer. */
const HARDLY_EVER = 0.01

function whyOf(answers: Answers | undefined): ProvesNothing['why'] {
  const rows = [...(answers?.values() ?? [])]
  const passed = sumOf(rows.map((one) => one.pass))
  const failed = sumOf(rows.map((one) => one.fail))
  if (passed + failed === 0) return 'nobody comes here'
  if (entropyBits(rows.map((one) => one.pass + one.fail)) < ASSUMPTIONS.blindBits) return 'already settled'
  return Math.min(passed, failed) < HARDLY_EVER * (passed + failed) ? 'all show the same' : 'cannot tell'
}

const sumOf = (weights: readonly number[]): number => weights.reduce((sum, weight) => sum + weight, 0)
