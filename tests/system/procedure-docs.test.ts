import { printIssue } from '@halfsplit/core'
import { parseProcedure } from '@halfsplit/procedure'
import { parseSystem, type System } from '@halfsplit/system'
import { expect, it } from 'vitest'
import { LAMP } from './cli.js'
import { blocks } from './guide.js'

const system = parseSystem(LAMP, 'lamp.yaml').system as System
const examples = blocks('docs/reference/procedure.md', 'yaml')

it('the page of written procedures has an example', () => expect(examples.length).toBeGreaterThan(0))

it.each(examples)('example %# has no mistake of form', (text) => {
  expect(parseProcedure(text, 'example.yaml', system).issues.map((one) => printIssue(one))).toEqual([])
})
