import { dimensionFacts, parseQuantity } from '@halfsplit/core'
import type { TestProbe } from '@halfsplit/diagnosis'
import { type Fields, type IssueList, named } from '@halfsplit/system'
import type { Expect } from './model.js'

const OVER_RANGE = 'over range'

/** What a step expects of its look or reading; undefined (and an issue) where it says nothing that can be compared. */
export function readExpect(issues: IssueList, fields: Fields, probe: TestProbe): Expect | undefined {
  return probe.kind === 'look' ? readWords(issues, fields, probe) : readLimits(issues, fields, probe)
}

function readWords(issues: IssueList, fields: Fields, { part, look }: Extract<TestProbe, { kind: 'look' }>): Expect | undefined {
  const words = fields.texts('expect')
  const wrong = words.find((word) => !look.words.includes(word))
  if (wrong !== undefined) {
    issues.add('UNKNOWN_WORD', `'${part.name}.${look.name}' is never seen as that`, fields.get('expect')?.value.at ?? fields.at, {
      expected: `one of ${look.words.join(', ')}`,
      received: named(wrong),
      nearest: issues.nearest(wrong, look.words),
    })
    return undefined
  }
  return words.length > 0 ? { kind: 'words', words } : undefined
}

type MeterProbe = Exclude<TestProbe, { kind: 'look' }>

function readLimits(issues: IssueList, fields: Fields, { meter }: MeterProbe): Expect | undefined {
  const entry = fields.get('expect')
  const text = fields.text('expect')
  if (!entry || text === undefined) return undefined
  if (text === OVER_RANGE) return { kind: 'over-range' }
  const dimension = meter.quantity
  const position = entry.value.at
  const parsed = parseQuantity(text, dimension)
  if (!parsed.ok) {
    const { code, message, expected, received, fix } = parsed
    issues.add(code, `"expect" of ${fields.what}: ${message}`, position, { expected, received, ...(fix ? { fix } : {}) })
    return undefined
  }
  const { value, relation, low, high } = parsed.value
  if (relation === 'at most') return { kind: 'range', dimension, high: value }
  if (relation === 'at least') return { kind: 'range', dimension, low: value }
  if (low !== undefined && high !== undefined) return { kind: 'range', dimension, low, high }
  issues.add('EXPECT_WITHOUT_LIMITS', `"expect" of ${fields.what} has no limits`, position, {
    expected: `limits, as in "${dimensionFacts(dimension).example} +- 10 %", a range "a..b", "at least ..." or "${OVER_RANGE}"`,
    received: named(text),
    fix: 'no reading is ever exactly a value: say how far off is still good',
  })
  return undefined
}
