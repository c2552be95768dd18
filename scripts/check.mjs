// Lint, format and types in one command: what `npm run check` and `npm test` run before the tests.
import { spawnSync } from 'node:child_process'

const steps = [
  { name: 'types', bin: 'node_modules/typescript/bin/tsc', args: ['-b'] },
  { name: 'types of the tests', bin: 'node_modules/typescript/bin/tsc', args: ['--noEmit', '-p', 'tsconfig.test.json'] },
  {
    name: 'lint',
    bin: 'node_modules/oxlint/bin/oxlint',
    args: ['--type-aware', '--quiet', 'packages', 'tests', 'scripts'],
  },
  { name: 'format', bin: 'node_modules/@biomejs/biome/bin/biome', args: ['format', '.'] },
]
let failed = 0
for (const { name, bin, args } of steps) {
  const done = spawnSync(process.execPath, [bin, ...args], { encoding: 'utf8' })
  console.log(`${done.status === 0 ? 'ok  ' : 'FAIL'} ${name}`)
  if (done.status !== 0) {
    failed += 1
    console.log(done.stdout, done.stderr)
  }
}
process.exit(failed ? 1 : 0)
