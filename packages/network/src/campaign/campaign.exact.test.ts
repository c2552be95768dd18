import { expect, test } from 'vitest'
import { compile } from '../circuit.js'
import { settle } from '../settle.js'
import { exactSolution, type FlowMatrix, type Fraction } from '../testing/exact.js'
import { drawn, randomFaults, randomNetwork } from '../testing/random-network.js'
import type { Network } from '../types.js'
import { Campaign } from './campaign.js'
import { bothFaults, faulted } from './fault.js'

const LARGEST = 24

/** Across quantities of a linear network in whole numbers, by node; held nodes as they are held. */
function exactly(net: Network): (Fraction | number)[] {
  const { unknown, nodeOf, branches, insulation, injection, rest, heldValue } = compile(net)
  const matrix: FlowMatrix = { edges: [], excess: Array.from(nodeOf, (node) => insulation[node]) }
  const drive = Array.from(nodeOf, (node) => injection[node] + insulation[node] * rest[node])
  for (const { a, b, law } of branches) {
    if (law.law !== 'linear') throw new Error('exact solutions are for linear networks')
    const [i, j] = [unknown[a], unknown[b]]
    if (i >= 0 && j >= 0) matrix.edges.push({ i, j, ij: law.g, ji: law.g })
    // These two sums of positive numbers are rounded: 1e-16 of themselves, far below what is asked of the solution.
    for (const [own, other, held] of [
      [i, j, b],
      [j, i, a],
    ]) {
      if (own < 0 || other >= 0) continue
      matrix.excess[own] += law.g
      drive[own] += law.g * heldValue[held]
    }
  }
  const x = exactSolution(matrix, drive)
  return Array.from(unknown, (u, node) => (u < 0 ? heldValue[node] : x[u]))
}

/** A fraction as a double. */
const toNumber = (value: Fraction | number): number =>
  typeof value === 'number' ? value : Number((value.over * 10n ** 25n) / value.under) / 1e25

function farthest(across: Float64Array, exact: readonly (Fraction | number)[]): number {
  return exact.reduce<number>((worst, value, i) => Math.max(worst, Math.abs(across[i] - toNumber(value))), 0)
}

test.each([
  { nodes: 8, faults: 20 },
  { nodes: 25, faults: 12 },
  { nodes: 60, faults: 2 },
])(
  'with $nodes nodes the fast way and the full solve agree with whole numbers, opens and shorts included',
  ({ nodes, faults }) => {
    const { shape, blows } = drawn(`exact ${nodes}`, nodes, faults)
    const net = randomNetwork(shape, false)
    const run = new Campaign(net)
    const singles = randomFaults(net, blows)
    for (const fault of [...singles, bothFaults(singles[0], singles[1])]) {
      const exact = exactly(faulted(net, fault))
      const fast = run.solve(fault)
      const full = settle(faulted(net, fault))
      if (fast.status !== 'settled' || full.status !== 'settled') throw new Error(`${fault.id}: ${fast.status}, ${full.status}`)
      expect(farthest(fast.across, exact)).toBeLessThan(1e-9 * LARGEST)
      expect(farthest(full.point.across, exact)).toBeLessThan(1e-9 * LARGEST)
    }
    expect(run.counts.bySettle).toBe(0)
  },
)
