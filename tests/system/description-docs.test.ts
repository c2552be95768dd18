import { readFileSync } from 'node:fs'
import { printIssue } from '@halfsplit/core'
import { checkSystem } from '@halfsplit/system'
import { expect, it } from 'vitest'

const page = readFileSync(new URL('../../docs/reference/description.md', import.meta.url), 'utf8')
const examples = [...page.matchAll(/^```yaml\n([\s\S]*?)^```$/gm)].map(([, text]) => text)

it('the smallest useful description has ten lines', () => expect(examples[0].trim().split('\n')).toHaveLength(10))

it.each(examples.map((text, i) => [i + 1, text] as const))('example %i of the description language has no issues', (i, text) => {
  expect(checkSystem(text, `example-${i}.yaml`).issues.map((one) => printIssue(one))).toEqual([])
})

it('the page names every key of the top level, in order', () => {
  const keys = [
    'halfsplit',
    'machine',
    'invented',
    'about',
    'sequence',
    'parts',
    'connectors',
    'wires',
    'hoses',
    'joins',
    'frame',
  ]
  const places = [...keys, 'assemblies', 'places', 'tools', 'states', 'scenarios', 'complaints'].map((key) =>
    page.indexOf(`\`${key}\``, page.indexOf('## Top level')),
  )
  expect(places).toEqual(places.toSorted((p, q) => p - q))
  expect(places).not.toContain(-1)
})
