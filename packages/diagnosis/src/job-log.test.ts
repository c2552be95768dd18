import type { Action, Entry, Job } from '@halfsplit/job'
import { expect, test } from 'vitest'
import { earlierJob, logOf } from './job-log.js'
import { bench, system } from './testing/relay-lamp.js'

const LOOK: Entry = { kind: 'look', setup: { state: 'on' }, observable: 'E1.light', word: 'dark' }
const job = (entries: Entry[], more: Partial<Job> = {}): Job => ({
  format: 'halfsplit-job/1',
  machine: system.title,
  description: { name: system.name },
  complaint: { words: 'it stays dark', looks: [{ state: 'on', observable: 'E1.light', word: 'dark' }] },
  entries,
  ...more,
})
const act = (what: Action['do']): Entry => ({ kind: 'action', do: what, target: 'X1' })

test('tapping and wiggling disturb the contacts of a part; warming, cooling and wetting touch none, and cut the log all the same', () => {
  const done = (what: Parameters<typeof act>[0]) => logOf(bench, job([LOOK, act(what), LOOK])).log[1]
  for (const what of ['tap', 'wiggle'] as const)
    expect(done(what)).toEqual({ kind: 'disturbed', parts: ['X1'], provoked: { how: what, parts: ['X1'] } })
  expect(done('re-seat')).toEqual({ kind: 'disturbed', parts: ['X1'] })
  for (const what of ['warm', 'cool', 'wet'] as const)
    expect(done(what)).toEqual({ kind: 'disturbed', parts: [], provoked: { how: what, parts: ['X1'] } })
})

test('a contact that was warmed is as suspect as before, one that was wiggled and is well since is more so', () => {
  const lit: Entry = { ...LOOK, word: 'bright' }
  const contact = (...entries: Entry[]) => {
    const { log, complaint } = logOf(bench, job(entries))
    return bench.standing(log, complaint).repairs.find(({ repair }) => repair === 'renew X1.1')?.probability ?? 0
  }
  const still = contact(LOOK, lit)
  expect(contact(LOOK, act('warm'), lit)).toBeLessThan(contact(LOOK, act('wiggle'), lit))
  expect(contact(LOOK, act('wiggle'), lit)).toBeGreaterThan(still)
})

test('a defect met on the way is no evidence; one at a part that is not there is an issue', () => {
  const found: Entry = { kind: 'found', part: 'E1', text: 'glass cracked' }
  expect(logOf(bench, job([LOOK, found])).log).toEqual(logOf(bench, job([LOOK])).log)
  expect(logOf(bench, job([{ ...found, part: 'E7' }])).issues).toMatchObject([{ code: 'JOB_POINT_UNKNOWN' }])
  expect(logOf(bench, job([{ kind: 'found', text: 'mirror cracked' }])).issues).toEqual([])
})

test('a comeback of a repaired machine was worked on since; one that was only looked at was not', () => {
  const comebackOf = (entries: Entry[]) => ({ ageDays: 4, complaint: { words: 'as before' }, entries })
  const repaired = comebackOf([LOOK, { kind: 'repair', repair: 'replace', parts: ['E1'] }])
  expect(logOf(bench, job([], { comebackOf: repaired })).complaint?.workedOn).toBe(true)
  expect(logOf(bench, job([], { comebackOf: comebackOf([LOOK]) })).complaint?.workedOn).toBeUndefined()
  const earlier = earlierJob(job([], { comebackOf: repaired }))
  expect(earlier).toMatchObject({ complaint: { words: 'as before' }, entries: repaired.entries })
  expect(earlier).not.toHaveProperty('comebackOf')
  expect(earlierJob(job([]))).toBeUndefined()
})
