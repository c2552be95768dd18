import { createRandom } from '@halfsplit/core'
import { Bench } from '@halfsplit/diagnosis'
import { describe, expect, test } from 'vitest'
import { isShown } from '../draw-job.js'
import { VirtualMachine } from '../virtual-machine.js'
import { confusions } from './confusions.js'
import { isNoticed } from './noticed.js'
import type { JobOutcome, Worked } from './outcome.js'
import { lamp } from './testing/lamp.js'
import { Trial } from './trial.js'
import { CaseSource, type TrialSetting } from './trial-case.js'

const system = lamp()
const bench = new Bench(system)
const setting: TrialSetting = { seed: 'one', faults: 'by weight' }

describe('the jobs of a trial', () => {
  test('are drawn from seed and place alone', () => {
    const source = new CaseSource(system, setting)
    source.at(0)
    const again = new CaseSource(system, setting)
    expect(again.at(3)?.truth).toEqual(source.at(3)?.truth)
    expect(new CaseSource(system, { ...setting, seed: 'two' }).at(3)?.truth).not.toEqual(source.at(3)?.truth)
  })

  test('complain of what the machine really shows', () => {
    const source = new CaseSource(system, setting)
    for (let n = 0; n < 10; n += 1) {
      const given = source.at(n)
      if (!given || given.job.complaint.howOften !== undefined) continue
      expect(isShown(given.machine(), given.complaint)).toBe(true)
    }
  })

  test('give each two of the likeliest repairs once, both of them needed', () => {
    const source = new CaseSource(system, { seed: 'one', faults: { pairsOf: 4 } })
    const trial = new Trial(system, { seed: 'one', faults: { pairsOf: 4 } }, bench)
    const cures = Array.from({ length: source.number ?? 0 }, (_, n) => trial.work(n, [])?.cures.join(' and '))
    const found = cures.filter((one) => one !== undefined)
    expect(new Set(found).size).toBe(found.length)
    expect(found.length).toBeGreaterThan(0)
  })

  test('with two faults have two that an operator would notice, each alone', () => {
    const { truth } = new CaseSource(system, { seed: 'one', faults: 'two' }).at(0) ?? { truth: [] }
    expect(truth).toHaveLength(2)
    const alone = (faults: typeof truth) => new VirtualMachine(system, faults, createRandom('any'), { present: 1 })
    for (const fault of truth) expect(isNoticed(alone([fault]), alone([]))).toBe(true)
    expect(isNoticed(alone([]), alone([]))).toBe(false)
  })

  test('with a fault that is missing tell the bench nothing of it', () => {
    const trial = new Trial(system, { seed: 'one', faults: 'one', mismatch: 'missing' })
    const told = new Set(trial.bench.faults.map(({ id }) => id))
    expect(trial.source.missing.size).toBe(1)
    for (const mode of trial.source.missing) expect(told.has(mode)).toBe(false)
  })

  test('that no complaint fits are said to be none', () => {
    const silent = { ...system, complaints: [] }
    expect(new CaseSource(silent, { seed: 'one', faults: { pairsOf: 2 } }).at(0)).toBeUndefined()
  })
})

describe('a worked job', () => {
  test('is the same on a bench that was asked before and on a fresh one', () => {
    const before = new Trial(system, setting, bench)
    before.work(0, ['bench'])
    expect(before.work(1, ['bench', 'likeliest'])).toEqual(new Trial(system, setting).work(1, ['bench', 'likeliest']))
  })

  test('adds up: prices of what was fitted, minutes of tests among all minutes', () => {
    const outcome = new Trial(system, setting, bench).work(2, ['bench', 'likeliest']) as JobOutcome
    for (const worked of Object.values(outcome.ways)) {
      const price = worked.fitted.reduce((sum, one) => sum + one.price, 0)
      const comeback = worked.left.length > 0 && worked.end !== 'not described' ? 150 + 45 * 1.2 : 0
      expect(worked.money).toBeCloseTo(worked.minutes * 1.2 + price + comeback, 9)
      expect(worked.testMinutes).toBeLessThanOrEqual(worked.minutes)
    }
    expect(outcome.ways.likeliest?.tests).toBe(0)
  })

  test('is kept as a log that begins with what the owner says', () => {
    const job = new Trial(system, setting, bench).job(1)
    expect(job?.complaint.looks?.length).toBeGreaterThan(0)
    expect(job?.entries.at(-1)?.kind).toMatch(/look|reading/)
  })
})

const worked: Worked = { end: 'proved', fitted: [], left: [], tests: 1, testMinutes: 1, minutes: 1, money: 1 }
const outcome = (index: number, cure: string, repair: string, did: 'cured' | 'nothing'): JobOutcome => ({
  index,
  truth: [`${cure.split(' ')[1]}.worn@3`],
  cures: [cure],
  comesAndGoes: false,
  missing: false,
  complaint: 'dark',
  redrawn: 0,
  ways: { bench: { ...worked, fitted: repair === '' ? [] : [{ repair, did, price: 1 }] } },
})

test('jobs that went wrong alike stand together, commonest first, and right ones nowhere', () => {
  const all = [
    outcome(0, 'replace K7', 'replace K7', 'cured'),
    outcome(1, 'replace K7', 'replace SV1', 'nothing'),
    outcome(2, 'replace S1', '', 'nothing'),
    outcome(3, 'replace K7', 'replace SV1', 'nothing'),
  ]
  expect(confusions(all)).toMatchObject([
    { cure: 'replace K7', instead: 'replace SV1', isRepair: true, jobs: 2, of: 3, truths: [['K7.worn', 2]], indices: [1, 3] },
    { cure: 'replace S1', instead: 'proved', isRepair: false, jobs: 1, of: 1 },
  ])
})
