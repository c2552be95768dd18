import { describe, expect, it } from 'vitest'
import { Columns } from './columns.js'

const columns = new Columns(100, 'one')
const mean = (values: Float64Array) => values.reduce((sum, value) => sum + value, 0) / values.length

describe('columns of drawn specimens', () => {
  it('go evenly over their law', () => {
    const z = columns.normal('a')
    expect(mean(z)).toBeCloseTo(0, 9)
    // A hundred stretches of equal chance, each by its middle: a little less than the law's own variance.
    expect(mean(z.map((value) => value ** 2))).toBeGreaterThan(0.96)
    expect(mean(z.map((value) => value ** 2))).toBeLessThan(1)
    expect([...columns.uniform('a')].filter((share) => share < 0.3)).toHaveLength(30)
  })

  it('of different names have little to do with each other, and a name is the same again', () => {
    const [a, b] = [columns.normal('a'), columns.normal('b')]
    // Correlation of independent orders: one sd is 0.1.
    expect(Math.abs(mean(a.map((value, n) => value * b[n])))).toBeLessThan(0.4)
    expect(new Columns(100, 'one').normal('a')).toEqual(a)
    expect(new Columns(100, 'two').normal('a')).not.toEqual(a)
  })

  it('make readings by mean and slopes', () => {
    const z = columns.normal('latent 3')
    const line = columns.line(5, { index: [3], value: [0.5] })
    expect([...line]).toEqual([...z].map((value) => 5 + 0.5 * value))
  })
})
