// Writes packages/kinds/src/registry.ts from the kind files that are there, so that adding a kind is adding a file.
// A kind file exports one constant of type Kind; files of a folder that export none (laws shared by kinds) are left out.
import { existsSync, readdirSync, readFileSync, writeFileSync } from 'node:fs'
import { fileURLToPath } from 'node:url'

const source = fileURLToPath(new URL('../packages/kinds/src/', import.meta.url))
const DOMAINS = ['air', 'control', 'electrical', 'liquid', 'rotation', 'thermal']
const LINE_WIDTH = 130

/** The kinds found, in the order of their paths: the same on every machine. */
function findKinds() {
  const found = []
  for (const domain of DOMAINS) {
    if (!existsSync(source + domain)) continue
    for (const file of readdirSync(source + domain).sort()) {
      if (!file.endsWith('.ts') || file.endsWith('.test.ts')) continue
      const path = `${domain}/${file}`
      const names = [...readFileSync(source + path, 'utf8').matchAll(/^export const (\w+): Kind =/gm)].map((match) => match[1])
      if (names.length > 1) throw new Error(`${path} exports ${names.length} kinds: ${names.join(', ')}; one file holds one kind`)
      if (names.length === 1) found.push({ name: names[0], path: path.replace(/\.ts$/, '.js') })
    }
  }
  return found
}

/** The file's text, laid out as the formatter would. */
function registry(kinds) {
  const imports = kinds.map(({ name, path }) => `import { ${name} } from './${path}'`)
  const names = kinds.map(({ name }) => name)
  const oneLine = `const ALL: readonly Kind[] = [${names.join(', ')}]`
  const list =
    oneLine.length <= LINE_WIDTH ? oneLine : `const ALL: readonly Kind[] = [\n${names.map((name) => `  ${name},\n`).join('')}]`
  return `${imports.join('\n')}
import type { Kind } from './kind.js'

${list}

/** Every kind of part, by name. Written by scripts/list-kinds.mjs from the files of the folders: adding a kind is adding a file. */
export const KINDS: ReadonlyMap<string, Kind> = new Map(ALL.map((kind) => [kind.name, kind]))
`
}

const path = `${source}registry.ts`
const text = registry(findKinds())
if (!existsSync(path) || readFileSync(path, 'utf8') !== text) writeFileSync(path, text)
