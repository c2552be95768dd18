import { existsSync, readdirSync, readFileSync } from 'node:fs'
import { fileURLToPath } from 'node:url'
import { describe, expect, it } from 'vitest'

const root = fileURLToPath(new URL('../../', import.meta.url))

/** Which package may use which: lower floors are open to upper ones, never the reverse. See ARCHITECTURE.md. */
const ALLOWED: Readonly<Record<string, readonly string[]>> = {
  core: [],
  network: ['core'],
  kinds: ['network', 'core'],
  system: ['kinds', 'network', 'core'],
  measurement: ['core'],
  inference: ['core'],
  job: ['core'],
  diagnosis: ['system', 'measurement', 'inference', 'job', 'kinds', 'network', 'core'],
  procedure: ['diagnosis', 'system', 'measurement', 'inference', 'job', 'kinds', 'network', 'core'],
  drawing: ['system', 'kinds', 'network', 'core'],
  cli: ['drawing', 'procedure', 'diagnosis', 'system', 'measurement', 'inference', 'job', 'kinds', 'network', 'core'],
}

/** Packages that touch the machine they run on: files, clock, terminal. All others repeat exactly, in any place. */
const IMPURE = ['cli']

interface Import {
  file: string
  from: string
}

/** Tests may read files and use tools that the package itself does without. */
const isSource = ({ file }: Import) => !/\.test\.ts$|\/testing\//.test(file)

const IMPORTED =
  /(?:^|[\s;}])(?:import|export)\b[^'"();]*?\bfrom\s*['"]([^'"]+)['"]|\bimport\s*\(\s*['"]([^'"]+)['"]|^import\s+['"]([^'"]+)['"]/gm

/** What a text imports, re-exports or loads, and from where. */
function importsIn(text: string): string[] {
  const code = text.replace(/\/\*[\s\S]*?\*\//g, '').replace(/^\s*\/\/.*$/gm, '')
  return [...code.matchAll(IMPORTED)].map((match) => match[1] ?? match[2] ?? match[3])
}

/** Every import of a package's files. */
function importsOf(name: string): Import[] {
  const folder = `${root}packages/${name}/src/`
  const files = readdirSync(folder, { recursive: true, encoding: 'utf8' }).filter((file) => file.endsWith('.ts'))
  return files.flatMap((file) =>
    importsIn(readFileSync(folder + file, 'utf8')).map((from) => ({ file: `${name}/src/${file}`, from })),
  )
}

const packages = readdirSync(`${root}packages`)
const json = (path: string) => JSON.parse(readFileSync(root + path, 'utf8'))
const ours = (from: string) => /^@halfsplit\/([^/]+)/.exec(from)?.[1]

describe('imports run one way', () => {
  it('every package has its line in the table, and the table has no cycle', () => {
    expect(new Set(Object.keys(ALLOWED))).toEqual(new Set(packages))
    const lines = Object.entries(ALLOWED)
    expect(lines.filter(([name, lower]) => lower.some((other) => ALLOWED[other].includes(name)))).toEqual([])
  })

  it('the finder sees every form of import', () => {
    const text = `import a from 'one'\nimport { b,\n  c } from "two"\nexport * from 'three'\nexport type { D } from './four.js'
      const e = await import('five')\nimport 'six'\n/* import x from 'not' */\n// import y from 'nor'\nconst from = 'neither'`
    expect(importsIn(text)).toEqual(['one', 'two', 'three', './four.js', 'five', 'six'])
  })

  it.each(packages)('%s', (name) => {
    const imports = importsOf(name)
    const wrong = (test: (one: Import) => boolean) => imports.filter(test).map(({ file, from }) => `${file}: ${from}`)
    const allowed = ALLOWED[name]
    expect(wrong(({ from }) => ours(from) !== undefined && !allowed.includes(ours(from) as string))).toEqual([])
    expect(wrong(({ from }) => from.startsWith('@halfsplit/') && !/^@halfsplit\/[a-z]+$/.test(from))).toEqual([])
    expect(wrong((one) => isSource(one) && one.from.startsWith('.') && leaves(one.file, one.from))).toEqual([])
    expect(wrong(({ from }) => from.startsWith('.') && !/\.(js|json)$/.test(from))).toEqual([])
    const pure = !IMPURE.includes(name)
    expect(wrong((one) => pure && isSource(one) && one.from.startsWith('node:'))).toEqual([])
  })

  it.each(packages)('%s declares what it uses and refers to it', (name) => {
    const manifest = json(`packages/${name}/package.json`)
    const declared: string[] = Object.keys(manifest.dependencies ?? {})
    const used = new Set(
      importsOf(name)
        .filter(isSource)
        .map(({ from }) => from)
        .filter((from) => !from.startsWith('.') && !from.startsWith('node:')),
    )
    const door = (from: string) => (from.startsWith('@') ? from.split('/').slice(0, 2).join('/') : from.split('/')[0])
    expect([...used].map(door).filter((from) => !declared.includes(from))).toEqual([])
    const inside = declared.map(ours).filter((other) => other !== undefined)
    expect(inside.filter((other) => !ALLOWED[name].includes(other))).toEqual([])
    expect(Object.keys(manifest.exports)).toEqual(['.'])
    const references: { path: string }[] = json(`packages/${name}/tsconfig.json`).references ?? []
    expect(references.map(({ path }) => path.replace('../', '')).sort()).toEqual([...inside].sort())
  })

  it('the build knows every package', () => {
    const references: { path: string }[] = json('tsconfig.json').references
    expect(references.map(({ path }) => path).sort()).toEqual(packages.map((name) => `packages/${name}`).sort())
    expect(packages.filter((name) => !existsSync(`${root}packages/${name}/src/index.ts`))).toEqual([])
  })
})

/** Whether a relative import climbs out of the package's own folder. */
function leaves(file: string, from: string): boolean {
  const depth = file.split('/').length - 3
  return from.split('/').filter((step) => step === '..').length > depth
}
