import { createRandom } from '@halfsplit/core'
import { Bench } from '@halfsplit/diagnosis'
import { parseJob, serialiseJob } from '@halfsplit/job'
import { parseSystem, type System } from '@halfsplit/system'
import { describe, expect, test } from 'vitest'
import { drawJob } from './draw-job.js'

const TEXT = `halfsplit: 1
machine: work lamp
invented: true
parts:
  BAT: { kind: battery }
  F1: { kind: fuse, rating: 10 A }
  S1: { kind: switch }
  E1: { kind: lamp, power: 55 W, voltage: 12 V }
  G1: { kind: ground }
joins:
  - [BAT.plus, F1.a]
  - [F1.b, S1.a]
  - [S1.b, E1.feed]
  - [E1.ground, G1.a]
  - [G1.b, BAT.minus]
states:
  off: { dead: true }
  on: { from: off, set: { S1: on } }
complaints:
  dark: { says: the lamp stays dark, shows: [{ in: on, at: E1.light, is: dark }] }
`
const system = parseSystem(TEXT, 'lamp.yaml').system as System
const bench = new Bench(system)
const OPEN = { truth: [{ part: 'G1', mode: 'open' }], complaint: 'dark' }
const drawn = (seed: string) => drawJob(bench, OPEN, createRandom(seed))

describe('a drawn job', () => {
  test('is the same for the same stream, on a bench that was asked before or on a fresh one', () => {
    const again = drawJob(new Bench(system), OPEN, createRandom('one'))
    expect(serialiseJob(again.job)).toBe(serialiseJob(drawn('one').job))
  })

  test('shows the complaint, and says what cures it', () => {
    const { complaintShown, repairs, job } = drawn('one')
    expect(complaintShown).toBe(true)
    expect(repairs).toEqual(['clean G1'])
    expect(JSON.stringify(job)).not.toContain('G1.open')
  })

  test('opens again unchanged', () => {
    const text = serialiseJob(drawn('one').job)
    const parsed = parseJob(text, 'one.job.json')
    expect(parsed.issues).toEqual([])
    expect(parsed.job && serialiseJob(parsed.job)).toBe(text)
  })

  test('leads to the right repair in most of ten', () => {
    const right = Array.from({ length: 10 }, (_, n) => drawn(`job ${n}`).standing.repairs[0].repair).filter(
      (one) => one === 'clean G1',
    )
    expect(right.length).toBeGreaterThanOrEqual(8)
  })

  test('of a complaint or a fault that is not there is refused', () => {
    expect(() => drawJob(bench, { ...OPEN, complaint: 'loud' }, createRandom(1))).toThrow(/loud/)
    expect(() => drawJob(bench, { ...OPEN, truth: [{ part: 'G1', mode: 'melted' }] }, createRandom(1))).toThrow(/G1\.melted/)
  })
})
