import { readFileSync } from 'node:fs'
import { expect, test } from 'vitest'
import { EXIT, EXIT_MEANINGS } from './exit-codes.js'

test('the page of the commands has every exit code with its meaning, and no other', () => {
  const page = readFileSync(new URL('../../../docs/reference/cli.md', import.meta.url), 'utf8')
  const [, table] = page.split('## Exit codes')
  const rows = [...table.matchAll(/^\| (\d+) \| (.+) \|$/gm)].map(([, code, meaning]) => [Number(code), meaning])
  expect(rows).toEqual(Object.entries(EXIT).map(([name, code]) => [code, EXIT_MEANINGS[name as keyof typeof EXIT]]))
})
