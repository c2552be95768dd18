import { describe, expect, it } from 'vitest'
import { createRandom } from './index.js'

const draws = <T>(n: number, draw: () => T) => Array.from({ length: n }, draw)
const mean = (xs: number[]) => xs.reduce((a, b) => a + b, 0) / xs.length

describe('a seeded stream', () => {
  it('repeats, and differs from that of another seed', () => {
    const a = createRandom('job 1')
    const b = createRandom('job 1')
    expect(draws(20, a.uniform)).toEqual(draws(20, b.uniform))
    expect(createRandom(1).uniform()).toBe(createRandom('1').uniform())
    expect(createRandom(1).uniform()).not.toBe(createRandom(2).uniform())
  })

  it('forks by label, whatever was drawn before', () => {
    const a = createRandom(7)
    const early = a.fork('meter').uniform()
    a.normal()
    expect(a.fork('meter').uniform()).toBe(early)
    expect(a.fork('coil').uniform()).not.toBe(early)
  })

  it('has the moments of its laws', () => {
    const random = createRandom(3)
    const uniform = draws(40000, random.uniform)
    const normal = draws(40000, random.normal)
    // Four standard errors: 0.289/200 and 1/200.
    expect(Math.abs(mean(uniform) - 0.5)).toBeLessThan(0.006)
    expect(Math.abs(mean(normal))).toBeLessThan(0.02)
    expect(Math.abs(mean(normal.map((x) => x * x)) - 1)).toBeLessThan(0.03)
    expect(Math.min(...uniform)).toBeGreaterThan(0)
    expect(Math.max(...uniform)).toBeLessThan(1)
  })

  it('picks by weight and never what weighs nothing', () => {
    const random = createRandom(4)
    const picked = draws(10000, () => random.pick([1, 0, 3, 0]))
    expect(new Set(picked)).toEqual(new Set([0, 2]))
    expect(Math.abs(mean(picked) / 2 - 0.75)).toBeLessThan(0.02)
    expect(new Set(draws(500, () => random.integer(3)))).toEqual(new Set([0, 1, 2]))
  })
})
