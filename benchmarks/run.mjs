// `npm run bench -- NAME`: runs benchmarks/NAME.mjs; without a name, or with one that is not there, says which there are.
import { readdirSync } from 'node:fs'
import { fileURLToPath } from 'node:url'

const names = readdirSync(fileURLToPath(new URL('.', import.meta.url)))
  .filter((file) => file.endsWith('.mjs') && file !== 'run.mjs')
  .map((file) => file.slice(0, -'.mjs'.length))
const [name] = process.argv.slice(2)
if (names.includes(name)) {
  const { run } = await import(`./${name}.mjs`)
  await run()
} else {
  console.error(`halfsplit: ${name ? `no benchmark '${name}'` : 'no benchmark named'}; there are: ${names.join(', ')}`)
  process.exit(2)
}
