import fc from 'fast-check'
import { expect, test } from 'vitest'
import { analysePattern, eliminate, solve, solveTransposed } from './elimination.js'
import { exactSolution, type FlowMatrix, relativeError } from './testing/exact.js'

/**
 * A chain from a supply through wires, joints, opens (`open` siemens) and a short to a load, and on to a cut-off tail; node 0
 * is held through 1 mOhm, node 5 through 24 ohm, every node by an insulation of 1e12 ohm.
 */
function feed(open: number): FlowMatrix {
  const g = [1e3, 1e9, 1 / 0.0012, open, 1e3, 1 / 3.3, open, 1e9, 700]
  const edge = (i: number, j: number, value: number) => ({ i, j, ij: value, ji: value })
  const edges = [...g.map((value, n) => edge(n, n + 1, value)), edge(1, 5, open / 3), edge(2, 8, 1e-10)]
  const excess = Array.from({ length: 10 }, (_, n) => 1e-12 + (n === 0 ? 1e3 : n === 5 ? 1 / 24 : 0))
  return { edges, excess }
}

function solution({ edges, excess }: FlowMatrix, b: number[], transposed = false): Float64Array {
  const ends = edges.map(({ i, j }) => [i, j] as const)
  const pattern = analysePattern(excess.length, ends)
  const w = new Float64Array(pattern.slots)
  for (const { i, j, ij, ji } of edges) {
    w[pattern.slotOf(i, j)] += ij
    w[pattern.slotOf(j, i)] += ji
  }
  const pivot = new Float64Array(excess.length)
  eliminate(pattern, w, Float64Array.from(excess), pivot)
  const x = Float64Array.from(b)
  const by = transposed ? solveTransposed : solve
  by(pattern, w, pivot, x)
  return x
}

const worstError = (matrix: FlowMatrix, b: number[], transposed = false): number => {
  const exact = exactSolution(matrix, b, transposed)
  return Math.max(...Array.from(solution(matrix, b, transposed), (value, i) => relativeError(value, exact[i])))
}

const supply = [24e3, 0, 0, 0, 0, 0, 0, 0, 0, 0]

test.each([1e-9, 1e-10, 1e-12, 0])('milliohms, opens of %f S and a short keep fourteen digits at every node', (open) => {
  expect(worstError(feed(open), supply)).toBeLessThan(1e-14)
})

test('a cut-off tail held by insulation alone keeps fourteen digits', () => {
  const matrix = feed(1e-12)
  const [tail] = exactSolution(matrix, supply).slice(9)
  // Far below the supply, so that digits would be lost were they taken from a difference.
  expect(Number((tail.over * 1000n) / tail.under) / 1000).toBeLessThan(24)
  expect(relativeError(solution(matrix, supply)[9], tail)).toBeLessThan(1e-14)
})

test('the transposed solve is as exact, on a matrix that is not symmetric', () => {
  const matrix = feed(1e-11)
  matrix.edges.forEach((edge, n) => {
    edge.ji = n % 2 ? edge.ij / 7 : 0
  })
  expect(worstError(matrix, supply, true)).toBeLessThan(1e-14)
  expect(worstError(matrix, supply)).toBeLessThan(1e-14)
})

test('random networks of milliohms to teraohms keep fourteen digits in both directions', () => {
  const size = 7
  const value = fc.double({ min: -12, max: 3, noNaN: true }).map((power) => 10 ** power)
  const pair = fc.tuple(fc.nat(size - 1), fc.nat(size - 1)).filter(([i, j]) => i !== j)
  const edge = fc.record({ ends: pair, ij: value, ji: value }).map(({ ends: [i, j], ij, ji }) => ({ i, j, ij, ji }))
  const cases = fc.record({
    edges: fc.array(edge, { minLength: 4, maxLength: 14 }),
    excess: fc.array(value, { minLength: size, maxLength: size }),
    at: fc.nat(size - 1),
  })
  fc.assert(
    fc.property(cases, ({ edges, excess, at }) => {
      const b = excess.map((_, i) => (i === at ? 1 : 0.25))
      for (const transposed of [false, true]) expect(worstError({ edges, excess }, b, transposed)).toBeLessThan(1e-14)
    }),
    { numRuns: 60 },
  )
})

test('the order takes the lowest degree, then the lowest index, as a plain search of all nodes does', () => {
  const size = 12
  const edges = fc.array(fc.tuple(fc.nat(size - 1), fc.nat(size - 1)), { maxLength: 30 })
  fc.assert(
    fc.property(edges, (ends) => {
      const around = Array.from({ length: size }, () => new Set<number>())
      const connect = (i: number, j: number) => {
        if (i === j) return
        around[i].add(j)
        around[j].add(i)
      }
      for (const [i, j] of ends) connect(i, j)
      const left = new Set(around.keys())
      for (const k of analysePattern(size, ends).order) {
        const lowest = [...left].toSorted((p, q) => around[p].size - around[q].size || p - q)[0]
        expect(k).toBe(lowest)
        left.delete(k)
        for (const i of around[k]) around[i].delete(k)
        for (const i of around[k]) for (const j of around[k]) connect(i, j)
      }
    }),
    { seed: 1 },
  )
})
