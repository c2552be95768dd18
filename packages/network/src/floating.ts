import { branchFlow } from './balance.js'

import { nodeAt } from './errors.js'
import type { Seen } from './probe.js'
import type { Settled } from './settle.js'

/** Incremental conductance below which a path only counts as insulation, by domain (S, kg/(s Pa), ...). */
const PATH: Record<string, number> = { electrical: 2e-8, gas: 1e-14, liquid: 1e-16, thermal: 1e-9, rotation: 1e-9 }

/**
 * Names of the nodes that nothing but insulation holds: no path to the reference or to a held node through anything that
 * conducts. Their computed value is definite but means little on a real machine: any reading is possible, load it first.
 */
export function floatingNodes(settled: Settled): Set<string> {
  const { circuit } = settled
  const { find, join } = joined(settled)
  for (const { node } of circuit.held) join(node, 0)
  for (let i = 1; i < circuit.names.length; i += 1) if (circuit.insulation[i] >= PATH[circuit.domains[i]]) join(i, 0)
  return new Set(circuit.names.filter((_, i) => find(i) !== find(0)))
}

/** Names of the nodes that stand in open connection with one, itself among them; through held nodes none does. */
export function connectedNodes(seen: Seen, name: string): Set<string> {
  const { circuit } = seen
  const { find } = joined(seen, (i) => i !== 0 && circuit.unknown[i] >= 0)
  const node = nodeAt(circuit.index, name, { id: 'connection' })
  return new Set(circuit.names.filter((_, i) => find(i) === find(node)))
}

/** Sets of nodes that something conducting joins. @param through which nodes a path may go through; all when left out */
function joined({ circuit, point, bits }: Seen, through: (node: number) => boolean = () => true) {
  const root = Int32Array.from(circuit.names, (_, i) => i)
  const find = (i: number): number => {
    let r = i
    while (root[r] !== r) r = root[r]
    root[i] = r
    return r
  }
  const join = (i: number, j: number) => {
    root[find(i)] = find(j)
  }
  for (const branch of circuit.branches) {
    if (!through(branch.a) || !through(branch.b)) continue
    const { da, db } = branchFlow(branch, bits, point.across)
    const path = PATH[circuit.domains[branch.a === 0 ? branch.b : branch.a]]
    if (Math.max(da, -db) >= path) join(branch.a, branch.b)
  }
  for (const { nodes } of circuit.borders) if (through(nodes[0]) && through(nodes[1])) join(nodes[0], nodes[1])
  return { find, join }
}
