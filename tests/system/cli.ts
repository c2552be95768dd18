import { execFile, spawnSync } from 'node:child_process'
import { mkdtempSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { fileURLToPath } from 'node:url'

const root = fileURLToPath(new URL('../../', import.meta.url))

export const TRAILER = 'library/trailer-lights/trailer-lights.yaml'

/** A lamp on a battery: small enough to be worked out in a moment. */
export const LAMP = `halfsplit: 1
machine: Work lamp of Heron
invented: true
parts:
  BAT: { kind: battery, place: box }
  F1: { kind: fuse, rating: 5 A, place: box }
  S1: { kind: switch, place: cab }
  H1: { kind: lamp, power: 10 W, place: mast }
wires: { 1: { from: BAT.plus, to: F1.a }, 2: { from: F1.b, to: S1.a, length: 3 m }, 3: { from: S1.b, to: H1.feed, length: 4 m } }
joins: [[H1.ground, BAT.minus, frame]]
places: { box: { minutes: 1 }, cab: { minutes: 1 }, mast: { minutes: 2 } }
states: { off: { dead: true }, on: { from: off, set: { S1: on }, about: lamp switched on, hazards: [the glass is hot] } }
complaints:
  dark: { says: the lamp stays dark, shows: [{ in: on, at: H1.light, is: dark }] }
`

/** Builds what is out of date, so that the tests run what they were written with. */
export function build(): void {
  const done = spawnSync(process.execPath, ['node_modules/typescript/bin/tsc', '-b'], { cwd: root, encoding: 'utf8' })
  if (done.status !== 0) throw new Error(done.stdout)
}

export interface Ran {
  exit: number | null
  out: string
  err: string
}

const MAIN = 'packages/cli/dist/main.js'

function options(env: Record<string, string>) {
  const { NO_COLOR: _, FORCE_COLOR: __, ...rest } = process.env
  return { cwd: root, encoding: 'utf8' as const, env: { ...rest, ...env }, maxBuffer: 1e8 }
}

/** Runs the built command in the project's folder, with no terminal attached. */
export function halfsplit(args: readonly string[], env: Record<string, string> = {}): Ran {
  const { status, stdout, stderr } = spawnSync(process.execPath, [MAIN, ...args], { ...options(env), input: '' })
  return { exit: status, out: stdout, err: stderr }
}

/** The same for a command that takes long, so that another can run beside it. */
export function halfsplitMeanwhile(args: readonly string[]): Promise<Ran> {
  return new Promise((resolve) => {
    const child = execFile(process.execPath, [MAIN, ...args], options({}), (_, out, err) =>
      resolve({ exit: child.exitCode, out, err }),
    )
    child.stdin?.end()
  })
}

/** Writes files into a folder of their own. */
export function inFolder(files: Readonly<Record<string, string>>): (name: string) => string {
  const folder = mkdtempSync(join(tmpdir(), 'halfsplit-'))
  for (const [name, text] of Object.entries(files)) writeFileSync(join(folder, name), text)
  return (name) => join(folder, name)
}
