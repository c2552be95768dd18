// The door of `npm start`, `npm test`, `npm run reference` and `npm run bench` on a machine that has Node and nothing else:
// installs the locked packages if they are missing, builds what is out of date, then runs what was asked for.
import { spawnSync } from 'node:child_process'
import { existsSync, statSync } from 'node:fs'
import { fileURLToPath } from 'node:url'

const root = fileURLToPath(new URL('..', import.meta.url))
process.chdir(root)

/** Runs one command in the project's folder; its exit code ends ours when it fails. Set-up talk goes to stderr. */
function run(command, args, { quiet = false } = {}) {
  const stdio = quiet ? ['ignore', 2, 2] : 'inherit'
  const done = spawnSync(command, args, { stdio, cwd: root })
  if (done.error) {
    console.error(`halfsplit: cannot run ${command}: ${done.error.message}`)
    process.exit(1)
  }
  if (done.status !== 0) process.exit(done.status ?? 1)
}

const [major, minor] = process.versions.node.split('.').map(Number)
if (major < 20 || (major === 20 && minor < 19)) {
  console.error(
    `halfsplit: this is Node ${process.versions.node}; Node 20.19 or newer is needed. Install it and run the command again.`,
  )
  process.exit(1)
}

const installed = 'node_modules/.package-lock.json'
if (!existsSync(installed) || statSync(installed).mtimeMs < statSync('package-lock.json').mtimeMs) {
  console.error('halfsplit: installing packages (once) ...')
  run('npm', ['ci', '--no-audit', '--no-fund', '--loglevel=error'], { quiet: true })
}
run(process.execPath, ['scripts/list-kinds.mjs'], { quiet: true })
run(process.execPath, ['node_modules/typescript/bin/tsc', '-b'], { quiet: true })

const [task, ...rest] = process.argv.slice(2)
const cli = 'packages/cli/dist/main.js'
if (task === 'start') run(process.execPath, [cli, ...(rest.length ? rest : ['demo'])])
else if (task === 'reference') run(process.execPath, [cli, 'reference', ...rest])
else if (task === 'bench') run(process.execPath, ['benchmarks/run.mjs', ...rest])
else if (task === 'test') {
  run(process.execPath, ['scripts/check.mjs'])
  run(process.execPath, ['node_modules/vitest/vitest.mjs', 'run', ...rest])
} else {
  console.error(`halfsplit: no task '${task}'; there are start, test, reference and bench.`)
  process.exit(2)
}
