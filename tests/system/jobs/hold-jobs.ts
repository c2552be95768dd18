import { spawnSync } from 'node:child_process'
import { readdirSync, readFileSync } from 'node:fs'
import { fileURLToPath } from 'node:url'
import { beforeAll, expect, test } from 'vitest'

const root = fileURLToPath(new URL('../../..', import.meta.url))

interface Group {
  repairs: string[]
  probability: number
  decibansApart: number
}

interface Answer {
  suspects: { repair: string; probability: number }[]
  leading: Group
}

function isolate(name: string, job: string): Answer {
  const args = [`${root}packages/cli/dist/main.js`, 'isolate', `library/${name}/${name}.yaml`, '--job', job, '--json']
  const done = spawnSync(process.execPath, args, { cwd: root, encoding: 'utf8', maxBuffer: 1 << 26 })
  expect(done.stderr.includes('Error')).toBe(false)
  return JSON.parse(done.stdout) as Answer
}

/**
 * Holds the recorded jobs of a described system. They are drawn by the virtual machine; what was really the matter lies in the file beside,
 * read here only. One test file a system, so that they run side by side.
 */
export function holdJobs(name: string): void {
  const folder = `library/${name}/jobs`
  const jobs = readdirSync(`${root}${folder}`).filter((file) => file.endsWith('.job.json'))

  beforeAll(() => {
    const built = spawnSync(process.execPath, [`${root}node_modules/typescript/bin/tsc`, '-b'], { cwd: root })
    if (built.status !== 0) throw new Error(String(built.stdout))
  })

  test('there are at least three', () => {
    expect(jobs.length).toBeGreaterThanOrEqual(3)
  })

  test.each(jobs)('%s leads to the repair, or to at most three that no reading taken tells apart', (file) => {
    const truth = JSON.parse(readFileSync(`${root}${folder}/${file.replace('.job.', '.truth.')}`, 'utf8')) as {
      repairs: string[]
    }
    const { suspects, leading } = isolate(name, `${folder}/${file}`)
    const [first] = suspects
    if (truth.repairs.includes(first.repair) && first.probability >= 0.9) return
    expect(leading.repairs.length).toBeLessThanOrEqual(3)
    expect(leading.probability).toBeGreaterThanOrEqual(0.9)
    expect(leading.decibansApart).toBeLessThan(1)
    expect(leading.repairs.some((repair) => truth.repairs.includes(repair))).toBe(true)
  })
}
