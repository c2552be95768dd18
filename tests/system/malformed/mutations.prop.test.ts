import { readFileSync } from 'node:fs'
import { checkSystem } from '@halfsplit/system'
import fc from 'fast-check'
import { expect, it } from 'vitest'

const good = readFileSync(new URL('../../../library/trailer-lights/trailer-lights.yaml', import.meta.url), 'utf8')
const lines = good.split('\n')

const place = fc.nat(good.length - 1)
const line = fc.nat(lines.length - 1)
const junk = fc.oneof(
  fc.string({ maxLength: 12 }),
  fc.string({ unit: 'binary', maxLength: 6 }),
  fc.constantFrom(
    '\t',
    '{',
    '}',
    '[',
    ']',
    ': ',
    '- ',
    '&a ',
    '*a',
    '|\n',
    '"',
    "'",
    '#',
    '\u0000',
    '1e999',
    '__proto__',
    '0',
    '+- ',
    '%',
    '.',
    '/',
  ),
)

/** Ways a file gets spoilt: cut off, characters put in, taken out or replaced, lines swapped, doubled or lost. */
const spoil: fc.Arbitrary<(text: string) => string> = fc.oneof(
  place.map((at) => (text: string) => text.slice(0, at)),
  fc.tuple(place, junk).map(
    ([at, what]) =>
      (text: string) =>
        text.slice(0, at) + what + text.slice(at),
  ),
  fc.tuple(place, fc.nat(20)).map(
    ([at, count]) =>
      (text: string) =>
        text.slice(0, at) + text.slice(at + count),
  ),
  fc.tuple(place, junk).map(
    ([at, what]) =>
      (text: string) =>
        text.slice(0, at) + what + text.slice(at + what.length),
  ),
  fc.tuple(line, line).map(([from, to]) => withLines((all) => [...all.slice(0, to), all[from] ?? '', ...all.slice(to)])),
  line.map((at) => withLines((all) => all.filter((_, i) => i !== at))),
  fc
    .tuple(line, line)
    .map(([p, q]) => withLines((all) => all.map((one, i) => (i === p ? all[q] : i === q ? all[p] : one) ?? ''))),
)

function withLines(change: (all: string[]) => string[]): (text: string) => string {
  return (text) => change(text.split('\n')).join('\n')
}

it('a spoilt description is answered with a system or with located mistakes, never with a crash', () => {
  fc.assert(
    fc.property(fc.array(spoil, { minLength: 1, maxLength: 4 }), (changes) => {
      const text = changes.reduce((one, change) => change(one), good)
      const { system, issues } = checkSystem(text, 'spoilt.yaml')
      expect(system !== undefined).toBe(issues.every((one) => one.severity !== 'error'))
      for (const { position } of issues) {
        expect(position?.line).toBeGreaterThan(0)
        expect(position?.line).toBeLessThanOrEqual(text.split('\n').length)
        expect(position?.column).toBeGreaterThan(0)
      }
    }),
    { numRuns: 400 },
  )
})

it('any text at all is answered', () => {
  fc.assert(
    fc.property(fc.oneof(fc.string({ unit: 'binary', maxLength: 200 }), fc.json(), fc.string({ maxLength: 300 })), (text) => {
      expect(checkSystem(text, 'any.yaml').system).toBeUndefined()
    }),
    { numRuns: 400 },
  )
})
