// Writes what is generated from the code: the JSON Schemas of descriptions and of written procedures, and the list of issue codes.
// With --check it writes nothing and says what is out of date.
import { existsSync, mkdirSync, readFileSync, writeFileSync } from 'node:fs'
import { dirname } from 'node:path'
import { fileURLToPath } from 'node:url'
import { ISSUE_CODES } from '../packages/core/dist/index.js'
import { KINDS } from '../packages/kinds/dist/index.js'
import { procedureSchema } from '../packages/procedure/dist/index.js'
import { descriptionSchema } from '../packages/system/dist/index.js'

const sentence = (text) => `${text.charAt(0).toUpperCase()}${text.slice(1)}.`

function issuesPage() {
  const head = `# Issues: what each code says and what to do

An issue is a mistake in a description. It is printed as \`file:line:column: error: CODE: message\`, with the line it stands in, what was
expected and received, the nearest names, and a fix where one is known. All issues of a file come at once. A warning does not stop anything.
`
  const entry = ([code, { meaning, remedy }]) => `\n## ${code}\n\n${sentence(meaning)}\n\nWhat to do: ${remedy}.\n`
  const codes = Object.entries(ISSUE_CODES).sort(([p], [q]) => (p < q ? -1 : 1))
  return head + codes.map(entry).join('')
}

const pages = {
  'docs/schema/halfsplit.schema.json': `${JSON.stringify(descriptionSchema(KINDS), null, 2)}\n`,
  'docs/schema/procedure.schema.json': `${JSON.stringify(procedureSchema(), null, 2)}\n`,
  'docs/reference/issues.md': issuesPage(),
}
const root = fileURLToPath(new URL('..', import.meta.url))
let stale = 0
for (const [name, text] of Object.entries(pages)) {
  const path = `${root}${name}`
  if (existsSync(path) && readFileSync(path, 'utf8') === text) continue
  stale += 1
  if (process.argv.includes('--check')) console.log(`${name} is out of date: run "node scripts/schema.mjs"`)
  else {
    mkdirSync(dirname(path), { recursive: true })
    writeFileSync(path, text)
    console.log(`wrote ${name}`)
  }
}
process.exit(process.argv.includes('--check') && stale ? 1 : 0)
