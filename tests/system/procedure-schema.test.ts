import { readFileSync } from 'node:fs'
import { parseProcedure, procedureSchema } from '@halfsplit/procedure'
import { expect, it } from 'vitest'
import { libraryText, systemOf } from './library.js'

const stored = readFileSync(new URL('../../docs/schema/procedure.schema.json', import.meta.url), 'utf8')
const schema = JSON.parse(stored)

it('the stored schema of procedures is what the code says (else run "node scripts/schema.mjs")', () => {
  expect(schema).toEqual(JSON.parse(JSON.stringify(procedureSchema())))
})

it('the keys of a step in the schema are those the reader takes', () => {
  const step = schema.properties.steps.additionalProperties
  const text = 'procedure: 1\nsteps: { a: { nonsense: x } }\n'
  const { issues } = parseProcedure(text, 'x.yaml', systemOf(libraryText('trailer-lights')))
  const allowed = issues.find(({ code }) => code === 'UNKNOWN_KEY')?.expected
  expect(allowed).toBe(`one of ${Object.keys(step.properties).join(', ')}`)
})

it.each(['go to feed', 'nothing found', 'no conclusion', 'replace K7', 'renew X12.1'])('"%s" is a way on', (way) => {
  expect(way).toMatch(new RegExp(schema.properties.steps.additionalProperties.properties.pass.pattern))
})
