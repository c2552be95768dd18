import { expect, test } from 'vitest'
import { minutesOfOneTest, tallies, tally } from './count.js'
import type { Fitted, JobOutcome, Worked } from './outcome.js'

const right: Fitted = { repair: 'replace K7', did: 'cured', price: 22 }
const wrong: Fitted = { repair: 'replace SV1', did: 'nothing', price: 90 }
const lamp: Fitted = { repair: 'replace L2', did: 'nothing', price: 2 }
const fuse: Fitted = { repair: 'replace F1', did: 'replaced what blew', price: 1 }

const worked = (fitted: Fitted[], more: Partial<Worked> = {}): Worked => ({
  end: 'proved',
  fitted,
  left: [],
  tests: 4,
  testMinutes: 8,
  minutes: 30,
  money: 60,
  ...more,
})
const counted = (all: Worked[], oneTest = 3) =>
  tally(
    all.map((one) => ({ worked: one, missing: false })),
    oneTest,
  )

test('a job is repaired at the first part if the first repair cures, whatever had blown', () => {
  const { repairedFirst } = counted([worked([right]), worked([fuse, right]), worked([wrong, right]), worked([])])
  expect(repairedFirst).toMatchObject({ count: 2, of: 4, share: 0.5 })
})

test('cheap ones in vain are left aside in the second figure only', () => {
  const { repairedFirst, repairedFirstCheapAside } = counted([worked([lamp, right]), worked([wrong, right])])
  expect([repairedFirst.count, repairedFirstCheapAside.count]).toEqual([0, 1])
})

test('a good part is condemned if it was paid for, cured nothing and cost more than one test', () => {
  const clean: Fitted = { repair: 'clean G1', did: 'nothing', price: 0 }
  const { condemned, condemnedWithCheap } = counted([worked([wrong, lamp, clean, right]), worked([wrong, wrong, right])])
  expect([condemned.mean, condemnedWithCheap.mean]).toEqual([1.5, 2.5])
  expect(counted([worked([lamp, right])], 1.99).condemned.mean).toBe(1)
})

test('what had blown condemns nothing', () => {
  expect(counted([worked([fuse, right])]).condemnedWithCheap.mean).toBe(0)
})

test('no part condemned in 100 jobs: the rate may still be 3.7 in 100', () => {
  // Garwood: -ln(0.025) events; the value is in every table of Poisson limits.
  const { condemned } = counted(Array.from({ length: 100 }, () => worked([right])))
  expect(condemned).toEqual({ mean: 0, low: 0, high: expect.closeTo(0.036889, 6) })
})

test('parts that come in clusters have the interval of their spread', () => {
  const many = worked([wrong, wrong, wrong, wrong, wrong, wrong])
  const { condemned } = counted([many, ...Array.from({ length: 9 }, () => worked([right]))])
  // Student: t(0.975, 9) = 2.26216, sd 1.89737 over ten jobs.
  expect(condemned).toEqual({ mean: 0.6, low: 0, high: expect.closeTo(0.6 + (2.26216 * 1.89737) / Math.sqrt(10), 4) })
})

test('a job is unproved if it was closed with a fault left, and not if no fault was found', () => {
  const left = ['K7.coil_open']
  const { unproved, repaired, ends } = counted([
    worked([wrong], { left }),
    worked([], { left, end: 'no fault found' }),
    worked([], { left, end: 'not described' }),
    worked([wrong, wrong], { left, end: 'given up' }),
    worked([right]),
  ])
  expect([unproved.count, repaired.count]).toEqual([1, 1])
  expect(ends).toEqual({ proved: 2, 'no fault found': 1, 'not described': 1, 'given up': 1 })
})

test('shares have the exact interval', () => {
  // NIST/SEMATECH e-Handbook 7.2.4.2 has 4 of 20 at 90 %; at 95 %: 0.0573 and 0.4366 (from memory of Clopper-Pearson tables).
  const jobs = [...Array.from({ length: 4 }, () => worked([right])), ...Array.from({ length: 16 }, () => worked([wrong]))]
  const { low, high } = counted(jobs).repairedFirst
  expect([low, high]).toEqual([expect.closeTo(0.0573, 4), expect.closeTo(0.4366, 4)])
})

test('minutes and money are means, with Student’s interval', () => {
  const { minutes, money } = counted([worked([right], { minutes: 20 }), worked([right], { minutes: 40 })])
  expect(minutes.mean).toBe(30)
  // t(0.975, 1) = 12.7062, sd 14.142, two jobs: 30 +- 127.06, and minutes are never negative.
  expect(minutes).toMatchObject({ low: 0, high: expect.closeTo(157.062, 3) })
  expect(money).toEqual({ mean: 60, low: 60, high: 60 })
})

test('of a single job there is no interval', () => {
  expect(counted([worked([right])]).minutes).toEqual({ mean: 30, low: 0, high: Number.POSITIVE_INFINITY })
})

test('not in this description counts over the jobs with a missing fault', () => {
  const jobs = [
    { worked: worked([], { end: 'not described' }), missing: true },
    { worked: worked([wrong]), missing: true },
    { worked: worked([], { end: 'not described' }), missing: false },
  ]
  expect(tally(jobs, 3).notDescribed).toMatchObject({ count: 1, of: 2 })
  expect(counted([worked([right])]).notDescribed).toBeUndefined()
})

const outcome = (ways: JobOutcome['ways']): JobOutcome => ({
  index: 0,
  truth: ['K7.coil_open'],
  cures: ['replace K7'],
  comesAndGoes: false,
  missing: false,
  complaint: 'never_stops',
  redrawn: 0,
  ways,
})

test('each way counts over the jobs it was used in', () => {
  const found = tallies([outcome({ bench: worked([right]) }), outcome({ bench: worked([wrong]), sheet: worked([right]) })], 3)
  expect([found.bench?.jobs, found.sheet?.jobs, found.likeliest]).toEqual([2, 1, undefined])
})

test('one test costs what the bench’s tests took on average', () => {
  const jobs = [outcome({ bench: worked([right]) }), outcome({ bench: worked([right], { tests: 1, testMinutes: 7 }) })]
  expect(minutesOfOneTest(jobs)).toBe(3)
  expect(minutesOfOneTest([outcome({ likeliest: worked([right]) })])).toBe(0)
})
