import { readFileSync } from 'node:fs'
import { expect, test } from 'vitest'
import { answers } from './testing/readme-example.js'

const text = (path: string) => readFileSync(new URL(path, import.meta.url), 'utf8')
const shown = /```ts\n([\s\S]*?)```/.exec(text('../README.md'))?.[1] ?? ''

test('the example of the README is the one that is run', () => {
  // From the first blank line on: the import differs, as here the package is inside itself.
  const body = (source: string) => source.slice(source.indexOf('\n\n'))
  const [run] = text('./testing/readme-example.ts').split('\nexport const answers')
  expect(body(run)).toBe(body(shown))
})

test('the example gives what its comments say', () => {
  expect([...shown.matchAll(/\/\/ ([\d.]+|Set \{ 'spare' \})/g)].map((match) => match[1])).toEqual([
    answers.volts.toFixed(3),
    answers.amps.toFixed(3),
    `Set { '${[...answers.floating].join("', '")}' }`,
    answers.slope[0].toFixed(3),
  ])
})
