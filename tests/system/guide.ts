import { mkdtempSync, readdirSync, readFileSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { fileURLToPath } from 'node:url'
import { type Kind, KINDS } from '@halfsplit/kinds'

export const root = fileURLToPath(new URL('../../', import.meta.url))

/** Pages a newcomer reads, by their path in the project. */
export const PAGES = [
  'README.md',
  'ARCHITECTURE.md',
  'CONTRIBUTING.md',
  ...readdirSync(`${root}docs/guide`).map((name) => `docs/guide/${name}`),
]

export const page = (path: string): string => readFileSync(root + path, 'utf8')

/** Code blocks of a page in one language, in their order. */
export const blocks = (path: string, language: string): string[] =>
  [...page(path).matchAll(/^```(\w*)\n([\s\S]*?)^```/gm)].filter((match) => match[1] === language).map((match) => match[2])

/** The file of the kind that the guide adds, as the guide gives it. */
export const guideKindText = (): string => blocks('docs/guide/new-kind.md', 'ts')[0]

/** The kind that the guide adds, run from its page as if it stood among the others. */
export async function guideKind(): Promise<Kind> {
  const text = guideKindText().replace(/from '\.\.\/(\S+)\.js'/g, (_, name) => `from '${root}packages/kinds/src/${name}.ts'`)
  const file = join(mkdtempSync(join(tmpdir(), 'halfsplit-guide-')), 'circuit-breaker.ts')
  writeFileSync(file, text)
  const { circuitBreaker } = await import(/* @vite-ignore */ file)
  return circuitBreaker
}

/** Every kind there is, and the one of the guide. */
export async function kindsWithGuide(): Promise<ReadonlyMap<string, Kind>> {
  const kind = await guideKind()
  return new Map([...KINDS, [kind.name, kind]])
}
