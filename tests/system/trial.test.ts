import { beforeAll, describe, expect, it } from 'vitest'
import { build, halfsplit, inFolder, LAMP, TRAILER } from './cli.js'
import { differences } from './json-page.js'

const at = inFolder({ 'lamp.yaml': LAMP, 'silent.yaml': LAMP.replace(/complaints:\n.*\n/, '') })
const lamp = (...options: string[]) => halfsplit(['trial', at('lamp.yaml'), ...options])

beforeAll(build)

describe('a trial', () => {
  it('comes out the same with any number of workers', () => {
    const [one, two] = ['1', '2'].map((workers) => lamp('--jobs', '3', '--workers', workers, '--json').out)
    expect(JSON.parse(one).tables[0].jobs).toHaveLength(3)
    expect(two).toBe(one)
  })

  it('is told as JSON as the page says, every table of it', () => {
    const { exit, out } = lamp('--jobs', '4', '--mismatched', '--plan', '--json')
    const document = JSON.parse(out)
    expect(exit).toBe(0)
    expect(differences(document, 'halfsplit-trial/1')).toEqual([])
    const ids = document.tables.map((table: { id: string }) => table.id)
    expect(ids).toEqual(['matched', 'tolerances', 'rates', 'meter', 'missing'])
  })

  it('falsifies records, and gives pairs, where it is asked for', () => {
    const { out } = lamp('--jobs', '2', '--falsify', '0.05', '--pairs', '2', '--pairs-of', '2', '--json')
    const [falsified, pairs, each] = JSON.parse(out).tables
    expect([falsified.id, falsified.falsified]).toEqual(['falsified', 0.05])
    expect(falsified.jobs.map(({ truth }: { truth: string[] }) => truth.length)).toEqual([1, 1])
    expect(pairs.jobs.map(({ truth }: { truth: string[] }) => truth.length)).toEqual([2, 2])
    expect(each.jobs.length + each.withoutComplaint).toBe(1)
  })

  it('is a table that one reads, with its intervals', () => {
    const { exit, out } = lamp('--jobs', '2')
    expect(exit).toBe(0)
    for (const words of ['repaired at the first part', 'good parts condemned per 100 jobs', 'likeliest part first', '% ('])
      expect(out).toContain(words)
  })

  it('gives one of its jobs as a log that isolate opens', () => {
    const { out } = lamp('--job', '1')
    const log = inFolder({ 'job.json': out })
    const opened = halfsplit(['isolate', at('lamp.yaml'), '--job', log('job.json'), '--json'])
    expect(opened.exit).toBe(0)
    expect(JSON.parse(opened.out)).toMatchObject({ entries: JSON.parse(out).entries.length, issues: [] })
  })

  it.each([
    ['--jobs', '0'],
    ['--jobs', 'many'],
    ['--falsify', '1'],
    ['--pairs', '1.5'],
    ['--workers', '-1'],
    ['--job', 'x'],
  ])('refuses %s %s', (option, value) => {
    const { exit, err } = lamp(option, value)
    expect(exit).toBe(2)
    expect(err).toContain(option)
  })

  it('needs a complaint to draw jobs from', () => {
    const { exit, err } = halfsplit(['trial', at('silent.yaml')])
    expect(exit).toBe(1)
    expect(err).toContain('complaints')
  })
})

/** As many as the bench works in a few minutes. */
const JOBS = 6

it('on the trailer lights the first repair is nearly always a right one, and rivals do worse', () => {
  const { out } = halfsplit(['trial', TRAILER, '--jobs', String(JOBS), '--json'])
  const [table] = JSON.parse(out).tables
  const [bench, likeliest] = table.counted
  expect(bench.jobs + table.withoutComplaint).toBe(JOBS)
  expect(bench.repairedFirst.share).toBeGreaterThanOrEqual(0.8)
  expect(bench.condemned.mean).toBeLessThanOrEqual(likeliest.condemned.mean / 2)
  expect(bench.money.mean).toBeLessThan(likeliest.money.mean)
})
