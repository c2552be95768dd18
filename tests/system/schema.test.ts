import { readFileSync } from 'node:fs'
import { KINDS } from '@halfsplit/kinds'
import { descriptionSchema } from '@halfsplit/system'
import { expect, it } from 'vitest'

const stored = readFileSync(new URL('../../docs/schema/halfsplit.schema.json', import.meta.url), 'utf8')
const schema = JSON.parse(stored)

it('the stored schema is what the kinds say (else run "node scripts/schema.mjs")', () => {
  expect(schema).toEqual(JSON.parse(JSON.stringify(descriptionSchema(KINDS))))
})

it('every rating of every kind has its default and its pattern, which the default fits', () => {
  for (const kind of KINDS.values()) {
    const { properties } = schema.$defs[`kind-${kind.name}`]
    for (const [name, rating] of Object.entries(kind.ratings)) {
      expect(properties[name].default).toBe(rating.default)
      expect(rating.default ?? '1 m').toMatch(new RegExp(properties[name].pattern, 'u'))
    }
    for (const [name, choice] of Object.entries(kind.choices ?? {})) expect(properties[name].enum).toEqual(choice.words)
  }
})

it.each(['10', '10 A', '<= 18 V', 'at least 2.4 V', '0.5..0.7 bar', '95 degC +- 2 K', 'AWG 18', '-5 degC', '4/0 AWG'])(
  '%s may be a quantity',
  (text) => {
    expect(text).toMatch(new RegExp(schema.$defs['kind-wire'].properties.length.pattern, 'u'))
  },
)

it.each(['', 'V 10', '13,5 V', 'ten volts'])('%s is no quantity', (text) => {
  expect(text).not.toMatch(new RegExp(schema.$defs['kind-wire'].properties.length.pattern, 'u'))
})

it('no kind has a rating or choice with the name of a key every part has', () => {
  for (const kind of KINDS.values()) {
    const own = [...Object.keys(kind.ratings), ...Object.keys(kind.choices ?? {})]
    expect(
      own.filter((name) =>
        ['kind', 'place', 'harness', 'exposure', 'frame', 'sealed', 'repairs', 'from', 'to', 'pins'].includes(name),
      ),
    ).toEqual([])
  }
})
