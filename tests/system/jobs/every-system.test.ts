import { readdirSync } from 'node:fs'
import { fileURLToPath } from 'node:url'
import { expect, test } from 'vitest'

const list = (folder: string) => readdirSync(fileURLToPath(new URL(folder, import.meta.url)), { withFileTypes: true })

test('every system of the library has its recorded jobs held by a file here', () => {
  const systems = list('../../../library/').flatMap((entry) => (entry.isDirectory() ? [`${entry.name}.test.ts`] : []))
  const files = new Set(list('.').map((entry) => entry.name))
  expect(systems.filter((file) => !files.has(file))).toEqual([])
})
