import { convert, convertDifference, parseUnit } from '@halfsplit/core'
import type { Amount, Answer, Row, Sense, Topic } from './handbook-row.js'
import { sameSense } from './handbook-sense.js'
import type { CaseResult } from './runner.js'

/** Exact means as printed: the last bits of a conversion do not count. */
const ROUNDING = 1e-9

/** Half of the last digit of a value the files give rounded to 8 digits (104.44444): some tolerances are finer than that. */
function roundingOf(value: number): number {
  const [digits, exponent] = value.toExponential().split('e')
  return digits.replace(/[-.]/g, '').length === 8 ? 0.5 * 10 ** (Number(exponent) - 7) : 0
}

function allowed(row: Row, expected: Amount): number {
  if (typeof row.tolerance === 'string') return ROUNDING * Math.abs(expected.value)
  const { rel = ROUNDING, abs } = row.tolerance
  // A row may have results of several units and an absolute tolerance for one of them.
  const absolute =
    abs && comparable(abs.unit, expected.unit) ? Math.abs(convertDifference(abs.value, abs.unit, expected.unit)) : 0
  return Math.max(rel * Math.abs(expected.value), absolute, roundingOf(expected.value))
}

function comparable(unit: string, other: string): boolean {
  const [a, b] = [parseUnit(unit), parseUnit(other)]
  return a?.exponents.every((exponent, i) => exponent === b?.exponents[i]) ?? false
}

function numberFits(row: Row, name: string, answer: Exclude<Answer, Sense | string | boolean>, expected: Amount): boolean {
  const value = convert(answer.value, answer.unit, expected.unit)
  if (answer.surplus) return expected.value >= value * answer.surplus.least && expected.value <= value * answer.surplus.most
  if (row.tolerance === 'one-sided') {
    const rounding = ROUNDING * Math.abs(expected.value)
    return /min$/i.test(name) ? value >= expected.value - rounding : value <= expected.value + rounding
  }
  return Math.abs(value - expected.value) <= allowed(row, expected)
}

/** The wrong number a misprinted source gives, as the row says it ("is printed as .366", "must not reproduce 178 A"). */
function misprint(row: Row): number | undefined {
  const printed = (/printed as ([\d.]+)/.exec(row.what) ?? /must not reproduce ([\d.]+)/.exec(row.note ?? ''))?.[1]
  return printed === undefined ? undefined : Number(printed)
}

function fits(row: Row, name: string, answer: Answer): boolean {
  const expected = row.expected[name]
  if (isSense(answer)) return senseOf(row, name, answer) === 'same'
  if (typeof answer !== 'object' || typeof expected !== 'object') return answer === expected
  const printed = misprint(row)
  const wrong = printed !== undefined && numberFits(row, name, answer, { value: printed, unit: expected.unit })
  return numberFits(row, name, answer, expected) && !wrong
}

function senseOf(row: Row, name: string, answer: Sense): ReturnType<typeof sameSense> {
  const expected = row.expected[name]
  return typeof expected === 'string' ? sameSense(expected, answer.sense, answer.among) : 'other'
}

function isSense(answer: Answer | undefined): answer is Sense {
  return typeof answer === 'object' && 'sense' in answer
}

function shown(x: Answer | undefined): string {
  if (isSense(x)) return `"${x.sense}"`
  return typeof x === 'object' ? `${x.value} ${x.unit}` : String(x)
}

/** A number made from an input the row does not have is no answer. */
function answered(answer: Answer | undefined): boolean {
  return typeof answer === 'object' && !isSense(answer) ? !Number.isNaN(answer.value) : answer !== undefined
}

/** Compares the project's answers with a row: every expected name must be answered, and every answer must fit. */
export function judge(row: Row, answers: ReturnType<Topic>): CaseResult {
  const skip = (detail: string): CaseResult => ({ id: row.id, outcome: 'skipped', detail })
  if ('cannot' in answers && typeof answers.cannot === 'string') return skip(answers.cannot)
  const given = answers as Record<string, Answer>
  const names = Object.keys(row.expected)
  const open = names.filter((name) => !answered(given[name]))
  if (open.length > 0) return skip(`no answer to ${open.join(', ')}`)
  const unclear = names.find((name) => isSense(given[name]) && senseOf(row, name, given[name]) === 'unclear')
  if (unclear)
    return skip(`the wordings are too far apart to compare: ${shown(row.expected[unclear])} and ${shown(given[unclear])}`)
  const wrong = names.filter((name) => !fits(row, name, given[name]))
  if (wrong.length === 0) return { id: row.id, outcome: 'passed' }
  const detail = wrong.map((name) => `${name}: expected ${shown(row.expected[name])}, got ${shown(given[name])}`).join('; ')
  // A value of low confidence tells of itself, not of the project.
  return row.confidence === 'low' ? skip(`low confidence; ${detail}`) : { id: row.id, outcome: 'failed', detail }
}
